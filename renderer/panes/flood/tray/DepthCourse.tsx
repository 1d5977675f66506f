import { DAY_S, type TrayFlood } from '../../../derive';
import { fixed, rounded, say, shownIn, type UnitSystem } from '../../../words';

/** Depth of the water over the day, with the crest dashed. */
export function DepthCourse({ tray, system }: { tray: TrayFlood; system: UnitSystem }) {
  const top = Math.max(tray.rimMm, tray.peakMm, 1);
  const x = (seconds: number) => 24 + (seconds / DAY_S) * 330;
  const y = (mm: number) => 74 - (mm / top) * 64;
  const points = tray.course.map((p) => `${rounded(x(p.seconds), 1)},${rounded(y(p.depthMm), 1)}`);
  return (
    <svg
      className="depth-course"
      viewBox="0 0 372 92"
      role="img"
      aria-label={`Depth in tray ${tray.code} over the day, up to ${say('length', system, tray.peakMm)}`}
    >
      <path className="course-frame" d="M24,10 V74 H354" />
      <path
        className="section-line"
        strokeDasharray="2 2"
        d={`M24,${y(tray.zone.floodDepthMm)} H354`}
      />
      <polyline className="course-line" points={points.join(' ')} />
      <text x={2} y={y(tray.zone.floodDepthMm) + 4}>
        {fixed(shownIn('length', system, tray.zone.floodDepthMm), system === 'metric' ? 0 : 1)}
      </text>
      {[0, 6, 12, 18, 24].map((hour) => (
        <text key={hour} x={x(hour * 3600)} y={88} textAnchor="middle">
          {hour} h
        </text>
      ))}
    </svg>
  );
}
