import type { ReactNode } from 'react';

/** Things seen from the side, in plain lines. */
export function SideView({ children }: { children: ReactNode }) {
  return (
    <g stroke="currentColor" fill="currentColor" className="term-side-view">
      {children}
    </g>
  );
}

const CELL = 13;
const GAP = 6;

/**
 * Places from above, a letter each: what it gets. A blank begins a new group; `framed` draws a line
 * around each, `shaded` fills every other one.
 */
export function Places(props: { rows: readonly string[]; framed?: boolean; shaded?: boolean }) {
  const { rows, framed = false, shaded = false } = props;
  const height = rows.length * (CELL + (framed ? GAP : 0));
  const top = (64 - height) / 2;
  return rows.map((row, r) => {
    const groups = row.split(' ');
    const width = [...row.replaceAll(' ', '')].length * CELL + (groups.length - 1) * GAP;
    const y = top + r * (CELL + (framed ? GAP : 0));
    let x = (160 - width) / 2;
    return groups.map((group, g) => {
      const left = x;
      const wide = group.length * CELL;
      x += wide + GAP;
      return (
        <g key={`${row}${left}`}>
          {framed ? (
            <rect
              {...{ x: left - 1, y: y - 1, width: wide + 2, height: CELL + 2, rx: 2 }}
              fill={shaded && (g + r) % 2 === 0 ? 'var(--accent-soft)' : 'none'}
              stroke="var(--line-strong)"
            />
          ) : null}
          {[...group].map((sign, i) => (
            <text
              key={`${left + i * CELL}`}
              x={left + (i + 0.5) * CELL}
              y={y + CELL - 3}
              className="term-place"
            >
              {sign}
            </text>
          ))}
        </g>
      );
    });
  });
}

/** Values around their mean, with a stretch marked under them; `second`: two means. */
export function Bell(props: { from: number; to: number; second?: boolean }) {
  const curve = (shift: number) =>
    `M${20 + shift},50 C${55 + shift},50 ${60 + shift},10 ${80 + shift},10 ` +
    `S${105 + shift},50 ${140 + shift},50`;
  return (
    <SideView>
      <path d={curve(props.second ? -12 : 0)} fill="none" strokeWidth="2" />
      {props.second ? (
        <path d={curve(13)} fill="none" strokeWidth="2" strokeDasharray="4 3" />
      ) : null}
      <path
        d={`M${props.from},56 H${props.to} M${props.from},52 V60 M${props.to},52 V60`}
        strokeWidth="2"
      />
    </SideView>
  );
}
