import type { Bounds } from './numbers';

// Far beyond every lamp, and near enough that no sum or product of them leaves the numbers.
const factor: Bounds = { lowest: 1e-6, highest: 1e6 };

/** What the figures of a photometric file may be. Angles in degrees, opening in metres. */
export const bounds = {
  lumens: { lowest: 1e-6, highest: 1e9 },
  factor,
  generation: { lowest: -1e6, highest: 1e6 },
  openingM: { lowest: -100, highest: 100 },
  watts: { lowest: 0, highest: 1e6 },
  candela: { lowest: 0, highest: 1e9 },
  integratedLumens: { lowest: 1e-6, highest: 1e7 },
  tiltAngle: { lowest: -360, highest: 360 },
  tiltMultiplier: { lowest: 0, highest: 1e3 },
  verticalAngle: { lowest: 0, highest: 180 },
  horizontalAngle: { lowest: 0, highest: 360 },
} as const satisfies Record<string, Bounds>;

/** Angles nearer to each other than this (degrees) are one, and a slope between them is none. */
export const LEAST_ANGLE_STEP_DEG = 1e-3;
