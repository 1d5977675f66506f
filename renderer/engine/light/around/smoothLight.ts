import { real } from '../../entry';
import { directAtPoints, type PointMm, type ReadyLamp } from '../sources/direct';

/**
 * Of lamps farther off than a bay is deep the light bends by less than 0.1 % of itself over such a step,
 * and is told between places of a grid along straight lines.
 */
const STEP_MM = 50;

/** Direct light at level receivers of lamps that are far off. */
export function smoothLight(
  lamps: readonly ReadyLamp[],
  { widthMm, depthMm }: { widthMm: number; depthMm: number },
  points: readonly PointMm[],
): Float64Array {
  const zMm = points[0]?.zMm ?? 0;
  const [nx, ny] = [Math.ceil(widthMm / STEP_MM), Math.ceil(depthMm / STEP_MM)];
  const count = (nx + 1) * (ny + 1);
  if (points.length < 2 * count || points.some((point) => point.zMm !== zMm)) {
    return directAtPoints(lamps, points);
  }
  const grid = Array.from({ length: count }, (_, k) => ({
    xMm: ((k % (nx + 1)) * widthMm) / nx,
    yMm: (Math.floor(k / (nx + 1)) * depthMm) / ny,
    zMm,
  }));
  const values = directAtPoints(lamps, grid);
  return Float64Array.from(points, ({ xMm, yMm }) => {
    const [s, t] = [(xMm * nx) / widthMm, (yMm * ny) / depthMm];
    const i = Math.min(nx - 1, Math.max(0, Math.floor(s)));
    const j = Math.min(ny - 1, Math.max(0, Math.floor(t)));
    const [a, b, k] = [s - i, t - j, j * (nx + 1) + i];
    const low = (1 - a) * real(values, k) + a * real(values, k + 1);
    const high = (1 - a) * real(values, k + nx + 1) + a * real(values, k + nx + 2);
    return (1 - b) * low + b * high;
  });
}
