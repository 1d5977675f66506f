import { DAY_S, withinDay, type ZoneFlood } from '../../derive';

const LEFT = 104;
const WIDTH = 250;
const ROW = 16;
/** Names longer than this would run into the bars. */
const LONGEST_NAME = 16;

const x = (seconds: number) => LEFT + (seconds / DAY_S) * WIDTH;

/** When each pump runs, from midnight to midnight. */
export function Timeline({ zones }: { zones: readonly ZoneFlood[] }) {
  return (
    <svg
      className="flood-timeline"
      viewBox={`0 0 366 ${zones.length * ROW + 18}`}
      role="img"
      aria-label={zones.map((z) => `${z.zone.name} floods ${z.runs.length} times`).join('; ')}
    >
      {zones.map((z, i) => (
        <g key={z.zone.id}>
          <text x={0} y={i * ROW + 11}>
            <title>{z.zone.name}</title>
            {shortened(z.zone.name)}
          </text>
          <path className="course-frame" d={`M${LEFT},${i * ROW + 13} H${LEFT + WIDTH}`} />
          {z.runs.flatMap(withinDay).map((run) => (
            <rect
              key={run.startS}
              className="timeline-run"
              x={x(run.startS)}
              y={i * ROW + 3}
              width={Math.max(1.5, x(run.endS) - x(run.startS))}
              height={9}
            />
          ))}
        </g>
      ))}
      {[0, 6, 12, 18, 24].map((hour) => (
        <text key={hour} x={x(hour * 3600)} y={zones.length * ROW + 14} textAnchor="middle">
          {hour} h
        </text>
      ))}
    </svg>
  );
}

function shortened(name: string): string {
  return name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME - 1)}…` : name;
}
