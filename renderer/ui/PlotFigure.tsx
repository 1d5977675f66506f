import * as Plot from '@observablehq/plot';
import { useEffect, useRef } from 'react';
import { axisNumber } from '../words';

/**
 * A figure drawn by the charting library at the width of its place. `label` says in words what it
 * shows; `onSvg` receives the drawing, to be saved.
 */
export function PlotFigure(props: {
  label: string;
  options: Plot.PlotOptions;
  testId?: string;
  onSvg?: ((svg: SVGElement) => void) | undefined;
}) {
  const { label, options, onSvg } = props;
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const draw = () => {
      const drawing = Plot.plot({
        style: { background: 'transparent', color: 'inherit', fontSize: '12px' },
        ...options,
        width: Math.max(240, element.clientWidth),
      });
      for (const mark of drawing.querySelectorAll('g[aria-label$="-axis tick label"] text')) {
        // A day stands in two lines, each a part of its own, and is no number.
        if (mark.childElementCount === 0) mark.textContent = axisNumber(mark.textContent);
      }
      // The figure is named as a whole; names on its groups, which have no role, say nothing.
      for (const part of drawing.querySelectorAll('g[aria-label]')) {
        part.removeAttribute('aria-label');
      }
      element.replaceChildren(drawing);
      const svg = drawing instanceof SVGElement ? drawing : drawing.querySelector('svg');
      if (svg) onSvg?.(svg);
    };
    draw();
    let width = element.clientWidth;
    const observer = new ResizeObserver(() => {
      if (element.clientWidth === width) return;
      width = element.clientWidth;
      draw();
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, [options, onSvg]);
  return <div ref={frame} role="img" aria-label={label} data-testid={props.testId} />;
}
