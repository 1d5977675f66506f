import { useEffect, useRef, useState } from 'react';
import { plainFixed } from '../../words';

/** CSS pixels a millimetre. */
const PX_PER_MM = 96 / 25.4;
/** Widest page there is: Letter, or A4 lying on its side. */
const TALL_MM = 216;
const WIDE_MM = 297;

/** The pages, scaled so that a whole width is seen. */
export function Preview(props: { title: string; html: string }) {
  const frame = useRef<HTMLDivElement>(null);
  const [widthPx, setWidthPx] = useState(0);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const watcher = new ResizeObserver(() => setWidthPx(element.clientWidth));
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  const widestMm = /class="page[^"]*wide"/.test(props.html) ? WIDE_MM : TALL_MM;
  // Room for the scroll bar and a little ground on both sides.
  const zoom = Math.max(0.2, Math.min(1, (widthPx - 32) / (widestMm * PX_PER_MM)));
  const css = `<style>@media screen{body{zoom:${plainFixed(zoom, 3)};overflow-x:hidden}}</style></head>`;
  return (
    <div className="chart-preview" ref={frame}>
      {widthPx > 0 ? (
        <iframe
          title={`Preview: ${props.title}`}
          sandbox=""
          srcDoc={props.html.replace('</head>', css)}
          data-testid="chart-preview"
        />
      ) : null}
    </div>
  );
}
