import { type TrayFlood } from '../../../derive';
import { say, type UnitSystem } from '../../../words';

/**
 * The tray cut through, seen from the front: water, pots, root zone, leaf line, rim, drain. A tray
 * that is not level is cut along its lower side, front or back; heights are over its lowest corner.
 */
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
  const { tilt } = vessel;
  const acrossMm = tilt.perMmX * vessel.tray.widthMm;
  const [left, right] = [12, 228];
  /** Height of the floor at a place of the drawing. */
  const floor = (x: number) => {
    const share = (x - left) / (right - left);
    return acrossMm >= 0 ? share * acrossMm : (share - 1) * acrossMm;
  };
  const highest = Math.abs(acrossMm) + Math.max(rim, pot?.heightMm ?? 0);
  const top = Math.max(highest, rootZoneTopMm, leafLineMm, tray.peakMm) + 14;
  const scale = 150 / top;
  const y = (mm: number) => 160 - mm * scale;
  const low = tilt.drainOverLowestMm;
  const peak = Math.min(rim, tray.peakMm + low);
  const crest = zone.floodDepthMm + low;
  const lines: { mm: number; text: string; dash: string }[] = [
    { mm: leafLineMm, text: 'leaf line', dash: '1 3' },
    { mm: rootZoneTopMm, text: 'root zone', dash: '6 3' },
    { mm: crest, text: 'flood depth', dash: '2 2' },
    { mm: rim, text: 'rim', dash: '' },
    ...(pot ? [{ mm: pot.heightMm, text: 'pot rim', dash: '8 2 2 2' }] : []),
  ];
  const placed = spread(lines.map((line) => ({ ...line, at: y(line.mm) })));
  const width = 34;
  const stand = (x: number) => floor(x + width / 2);
  const wet = (x: number, heightMm: number) => Math.min(heightMm, Math.max(0, peak - stand(x)));
  const drainX = drainPlace(acrossMm, low, tilt.fallMm, left, right);
  const shore = Array.from({ length: 41 }, (_, i) => left + ((right - left) * i) / 40);
  return (
    <svg
      className="tray-section"
      viewBox="0 0 360 178"
      role="img"
      aria-label={`Tray ${tray.code} in section: ${lines.map((l) => `${l.text} ${say('length', system, l.mm)}`).join(', ')}; water to ${say('length', system, peak)}`}
      data-testid="tray-section"
    >
      <polygon
        className="section-water"
        points={[
          ...shore.map((x) => `${x},${y(Math.max(peak, floor(x)))}`),
          ...[...shore].reverse().map((x) => `${x},${y(floor(x))}`),
        ].join(' ')}
      />
      {pot
        ? [48, 102, 156].map((x) => (
            <g key={x}>
              <path
                className="section-pot"
                d={`M${x},${y(stand(x) + pot.heightMm)} L${x + 3},${y(stand(x))} L${x + width - 3},${y(stand(x))} L${x + width},${y(stand(x) + pot.heightMm)}`}
              />
              <rect
                className="section-wet"
                x={x + 3}
                y={y(stand(x) + wet(x, pot.heightMm))}
                width={width - 6}
                height={wet(x, pot.heightMm) * scale}
              />
            </g>
          ))
        : null}
      <rect
        className="section-drain"
        x={drainX}
        y={y(crest)}
        width={7}
        height={Math.max(0, crest - floor(drainX)) * scale + 8}
      />
      <path
        className="section-tray"
        d={`M${left},${y(floor(left) + rim)} L${left},${y(floor(left))} L${right},${y(floor(right))} L${right},${y(floor(right) + rim)}`}
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

/** Where the drain is drawn: at the side on which it stands, to the right on a level tray. */
function drainPlace(
  acrossMm: number,
  overLowestMm: number,
  fallMm: number,
  left: number,
  right: number,
): number {
  const share = fallMm > 0 && acrossMm !== 0 ? overLowestMm / fallMm : 0;
  const fromLeft = acrossMm > 0 ? share : 1 - share;
  return left + 10 + fromLeft * (right - left - 27);
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
