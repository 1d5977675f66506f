import type { Drain, FloodZone } from '../../../../shared-types/flood';
import type { TrayFlood, ZoneFlood } from '../../../derive';
import { say, type UnitSystem } from '../../../words';

const FLOOR = 112;
const LEFT = 34;
const RIGHT = 286;
const RISER = 52;
const DRAIN = 262;
/** Reservoir below: its lid and its floor. */
const LID = 158;
const DEEP = 214;

/** A tub over its reservoir, cut through: what the four figures beside it are figures of. */
export function TubInSection(props: { tray: TrayFlood; found: ZoneFlood; system: UnitSystem }) {
  const { tray, found, system } = props;
  const { zone, vessel, rimMm } = tray;
  const [pot] = vessel.pots;
  const highest = Math.max(rimMm, pot?.heightMm ?? 0, tray.peakMm) + 6;
  const scale = 96 / highest;
  const y = (mm: number) => FLOOR - mm * scale;
  const peak = Math.max(0, Math.min(rimMm, tray.peakMm));
  const depth = Math.min(zone.floodDepthMm, highest);
  return (
    <svg
      className="tub-section"
      viewBox="0 0 320 222"
      role="img"
      aria-label={`Tray ${tray.code} over its reservoir: water to ${say('length', system, Math.round(peak))}, flood depth ${say('length', system, zone.floodDepthMm)}, rim ${say('length', system, rimMm)}`}
      data-testid="tub-section"
    >
      <rect
        className="section-water"
        x={LEFT}
        y={y(peak)}
        width={RIGHT - LEFT}
        height={peak * scale}
      />
      {pot
        ? [88, 142, 196].map((x) => (
            <g key={x}>
              <path
                className="section-pot"
                d={`M${x},${y(pot.heightMm)} l4,${pot.heightMm * scale} h26 l4,${-pot.heightMm * scale} z`}
              />
              <rect
                className="section-wet"
                x={x + 4}
                y={y(Math.min(peak, pot.heightMm))}
                width={26}
                height={Math.min(peak, pot.heightMm) * scale}
              />
            </g>
          ))
        : null}
      <path className="section-line" strokeDasharray="3 3" d={`M${LEFT},${y(depth)} H${RIGHT}`} />
      <text x={RISER + 22} y={FLOOR + 17}>
        flood depth {say('length', system, zone.floodDepthMm)}
      </text>
      <DrainPipe drain={zone.drain} topY={y(depth)} />
      <path className="section-tray" d={`M${LEFT},${y(rimMm)} V${FLOOR} H${RIGHT} V${y(rimMm)}`} />
      <Reservoir zone={zone} found={found} />
    </svg>
  );
}

/** Up to the flood depth, and down through the floor to the reservoir. */
function DrainPipe({ drain, topY }: { drain: Drain; topY: number }) {
  const shaft = (top: number) => (
    <rect className="section-drain" x={DRAIN - 4} y={top} width={8} height={LID - 6 - top} />
  );
  switch (drain.kind) {
    case 'standpipe':
      return shaft(topY);
    case 'siphon':
      return (
        <g>
          {shaft(topY)}
          <path
            className="section-drain section-bell"
            d={`M${DRAIN - 12},${FLOOR - 3} V${topY - 8} H${DRAIN + 12} V${FLOOR - 3}`}
          />
        </g>
      );
    case 'valve':
      return (
        <g>
          {shaft(FLOOR)}
          <path className="section-drain" d={`M${DRAIN - 9},${FLOOR + 12} l18,14 v-14 l-18,14 z`} />
        </g>
      );
  }
}

/** With its pump and riser; full, and down to what the pump cannot reach. */
function Reservoir({ zone, found }: { zone: FloodZone; found: ZoneFlood }) {
  const height = DEEP - LID - 6;
  const share = (litres: number) => Math.max(0, Math.min(1, litres / zone.reservoirL));
  const dead = height * share(zone.deadVolumeL);
  const least = height * share(zone.reservoirL - found.drawL);
  return (
    <g>
      <rect className="section-water" x={LEFT} y={LID + 6} width={RIGHT - LEFT} height={height} />
      <path
        className="section-line"
        strokeDasharray="3 3"
        d={`M${LEFT},${DEEP - least} H${RIGHT}`}
      />
      {dead > 1 ? (
        <rect
          className="section-dead"
          x={LEFT}
          y={DEEP - dead}
          width={RIGHT - LEFT}
          height={dead}
        />
      ) : null}
      <text x={RISER + 22} y={Math.min(DEEP - 6, DEEP - least + 13)}>
        lowest at a flood
      </text>
      <path className="section-tray" d={`M${LEFT},${LID} V${DEEP} H${RIGHT} V${LID}`} />
      <path className="section-riser" d={`M${RISER},${DEEP - 12} V${FLOOR - 8}`} />
      <path className="section-arrow" d={`M${RISER - 5},${FLOOR + 22} l5,-9 l5,9 z`} />
      <circle className="section-drain" cx={RISER} cy={DEEP - 12} r={9} />
      <path className="section-arrow" d={`M${RISER - 4},${DEEP - 8} l4,-8 l4,8 z`} />
    </g>
  );
}
