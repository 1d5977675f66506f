import type { UnitSystem } from '../../words';

export interface RulerStep {
  /** Between labelled marks, mm. */
  labelMm: number;
  /** Between plain marks, mm. */
  tickMm: number;
}

const METRIC_STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
const INCH_STEPS = [0.125, 0.25, 0.5, 1, 2, 6, 12, 24, 48, 96, 192];

/** Marks that leave at least `leastPixels` between two labels at this scale (pixels per mm). */
export function rulerStep(scale: number, system: UnitSystem, leastPixels = 64): RulerStep {
  const unit = system === 'metric' ? 1 : 25.4;
  const steps = system === 'metric' ? METRIC_STEPS : INCH_STEPS;
  const at = steps.findIndex((step) => step * unit * scale >= leastPixels);
  const index = at < 0 ? steps.length - 1 : at;
  const label = steps[index] ?? 1;
  const parts = system === 'imperial' && label >= 12 ? label / 6 : 5;
  const divisor = (label / parts) * unit * scale >= 5 ? parts : 2;
  return { labelMm: label * unit, tickMm: (label / divisor) * unit };
}

/** Multiples of a step from `from` to `to`, both included where they fall on one. */
export function marksBetween(from: number, to: number, stepMm: number): number[] {
  const first = Math.ceil(from / stepMm - 1e-9);
  const last = Math.floor(to / stepMm + 1e-9);
  const marks: number[] = [];
  for (let i = first; i <= last; i++) marks.push(i * stepMm + 0);
  return marks;
}
