import { useEffect, useMemo, useRef, useState } from 'react';
import type { Figure, FigureSize } from '../../../print/report';
import { TakeFigure } from './TakeAway';
import { rowOfLink, usePointing } from './usePointing';
import { useRowPots } from './useRowPots';

/** A figure at the width of its place. A click, or Enter, on a pot selects it on the rack. */
export function FigureView(props: {
  draw: (size: FigureSize) => Figure | null;
  testId?: string;
  /** What it shows, group by group, for those who cannot see it. */
  said?: readonly string[];
}) {
  const { draw } = props;
  const { goTo } = useRowPots();
  const frame = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setWidth(Math.floor(element.clientWidth)));
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  const figure = useMemo(
    () => (width > 0 ? draw({ width: Math.max(240, width), links: true }) : null),
    [draw, width],
  );
  const pointing = usePointing(frame, figure);
  return (
    <figure className="findings-figure" data-testid={props.testId}>
      <div
        ref={frame}
        {...pointing}
        onClick={(event) => {
          const row = rowOfLink(event.target);
          if (row === null) return;
          event.preventDefault();
          goTo(row);
        }}
        onKeyDown={(event) => {
          const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
          const link = event.target instanceof Element ? event.target.closest('a') : null;
          if (step === undefined || !link || !frame.current) return;
          const all = [...frame.current.querySelectorAll('a')];
          event.preventDefault();
          all[(all.indexOf(link) + step + all.length) % all.length]?.focus();
        }}
        dangerouslySetInnerHTML={{ __html: oneTabStop(figure?.svg ?? '') }}
      />
      {props.said && props.said.length > 0 ? (
        <ul className="visually-hidden">
          {props.said.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      ) : null}
      {figure ? <TakeFigure label={figure.label} draw={draw} /> : null}
    </figure>
  );
}

/** Tab reaches a figure's points once; the arrow keys go from point to point. */
function oneTabStop(svg: string): string {
  let first = true;
  return svg.replace(/<a /g, () => {
    if (!first) return '<a tabindex="-1" ';
    first = false;
    return '<a ';
  });
}
