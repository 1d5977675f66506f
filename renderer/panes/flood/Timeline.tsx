import { DAY_S, withinDay, type PumpRun, type ZoneFlood } from '../../derive';

const LEFT = 104;
const WIDTH = 250;
const ROW = 16;
/** Names longer than this would run into the bars. */
const LONGEST_NAME = 16;

const x = (seconds: number) => LEFT + (seconds / DAY_S) * WIDTH;

const inWords = ({ zone, runs, dry }: ZoneFlood) =>
  `${zone.name} floods ${runs.length} times${dry.length > 0 ? `, and runs dry in ${dry.length} of them` : ''}`;

function Bar({ run, row, look }: { run: PumpRun; row: number; look: string }) {
  const width = Math.max(1.5, x(run.endS) - x(run.startS));
  return <rect className={look} x={x(run.startS)} y={row * ROW + 3} width={width} height={9} />;
}

/** When each pump runs, and when it runs dry, from midnight to midnight. */
export function Timeline({ zones }: { zones: readonly ZoneFlood[] }) {
  return (
    <svg
      className="flood-timeline"
      viewBox={`0 0 366 ${zones.length * ROW + 18}`}
      role="img"
      aria-label={zones.map(inWords).join('; ')}
    >
      {zones.map((z, i) => (
        <g key={z.zone.id}>
          <text x={0} y={i * ROW + 11}>
            <title>{z.zone.name}</title>
            {shortened(z.zone.name)}
          </text>
          <path className="course-frame" d={`M${LEFT},${i * ROW + 13} H${LEFT + WIDTH}`} />
          {z.runs.flatMap(withinDay).map((run) => (
            <Bar key={run.startS} run={run} row={i} look="timeline-run" />
          ))}
          {z.dry.map((run) => (
            <Bar key={`dry ${run.startS}`} run={run} row={i} look="timeline-dry" />
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
