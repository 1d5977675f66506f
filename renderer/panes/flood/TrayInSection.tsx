import { say, type TrayFlood, type UnitSystem } from '../../derive';

/** The tray cut through, seen from the front: water, pots, root zone, leaf line, rim, drain. */
export function TrayInSection(props: {
  tray: TrayFlood;
  rootZoneTopMm: number;
  leafLineMm: number;
  system: UnitSystem;
}) {
  const { tray, rootZoneTopMm, leafLineMm, system } = props;
  const { vessel, zone } = tray;
  const rim = vessel.tray.rimHeightMm;
  const pot = vessel.pots[0];
  const top = Math.max(rim, rootZoneTopMm, leafLineMm, pot?.heightMm ?? 0, tray.peakMm) + 14;
  const scale = 150 / top;
  const y = (mm: number) => 160 - mm * scale;
  const [left, right] = [12, 228];
  const low = vessel.tilt.drainOverLowestMm;
  const peak = Math.min(rim, tray.peakMm + low);
  const crest = zone.crestMm + low;
  const lines: { mm: number; text: string; dash: string }[] = [
    { mm: leafLineMm, text: 'leaf line', dash: '1 3' },
    { mm: rootZoneTopMm, text: 'root zone', dash: '6 3' },
    { mm: crest, text: 'crest', dash: '2 2' },
    { mm: rim, text: 'rim', dash: '' },
    ...(pot ? [{ mm: pot.heightMm, text: 'pot rim', dash: '8 2 2 2' }] : []),
  ];
  const placed = spread(lines.map((line) => ({ ...line, at: y(line.mm) })));
  const width = 34;
  return (
    <svg
      className="tray-section"
      viewBox="0 0 360 178"
      role="img"
      aria-label={`Tray ${tray.code} in section: ${lines.map((l) => `${l.text} ${say('length', system, l.mm)}`).join(', ')}; water to ${say('length', system, peak)}`}
      data-testid="tray-section"
    >
      <rect
        className="section-water"
        x={left}
        y={y(peak)}
        width={right - left}
        height={Math.max(0, peak * scale)}
      />
      {pot
        ? [48, 102, 156].map((x) => (
            <g key={x}>
              <path
                className="section-pot"
                d={`M${x},${y(pot.heightMm)} L${x + 3},${y(0)} L${x + width - 3},${y(0)} L${x + width},${y(pot.heightMm)}`}
              />
              <rect
                className="section-wet"
                x={x + 3}
                y={y(Math.min(peak, pot.heightMm))}
                width={width - 6}
                height={Math.min(peak, pot.heightMm) * scale}
              />
            </g>
          ))
        : null}
      <rect className="section-drain" x={206} y={y(crest)} width={7} height={crest * scale + 8} />
      <path
        className="section-tray"
        d={`M${left},${y(rim)} L${left},${y(0)} L${right},${y(0)} L${right},${y(rim)}`}
      />
      {placed.map((line) => (
        <g key={line.text}>
          <path
            className="section-line"
            strokeDasharray={line.dash}
            d={`M${left},${line.at} L${right + 6},${line.at} L${right + 16},${line.label}`}
          />
          <text x={right + 20} y={line.label + 4}>
            {line.text} {say('length', system, line.mm)}
          </text>
        </g>
      ))}
    </svg>
  );
}

/** Labels keep 14 px apart, so that none covers another. */
function spread<T extends { at: number }>(lines: T[]): (T & { label: number })[] {
  let last = -Infinity;
  const down = [...lines]
    .sort((a, b) => a.at - b.at)
    .map((line) => {
      last = Math.max(line.at, last + 14);
      return { ...line, label: last };
    });
  const over = Math.max(0, (down.at(-1)?.label ?? 0) - 170);
  return down.map((line) => ({ ...line, label: line.label - over }));
}
