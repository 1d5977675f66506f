import { outflowLMin, type Outlet } from './outlet';

/**
 * Seconds in which the water in a basin of constant area goes from one depth to another, rising or
 * falling, under a steady inflow and an outlet with flow k√u, u = depth + drop:
 * A dh/dt = Q − k√u gives t = −(2A/k)[√u₂ − √u₁ + (Q/k) ln((Q − k√u₂)/(Q − k√u₁))].
 * null where the level comes to rest before, or moves the other way.
 */
export function secondsBetween(
  areaM2: number,
  inflowLMin: number,
  through: Outlet,
  fromMm: number,
  toMm: number,
): number | null {
  if (fromMm === toMm) return 0;
  const q = inflowLMin;
  // 1 m² × 1 mm is 1 L; a minute has 60 s.
  const litresPerMm = areaM2;
  const netFrom = q - outflowLMin(through, fromMm);
  const netTo = q - outflowLMin(through, toMm);
  const up = toMm > fromMm;
  // Without inflow the last drop too leaves in finite time; with it, the rest is never reached.
  const settles = q === 0 ? netTo > 0 : netTo >= 0;
  if (up ? netFrom <= 0 || netTo <= 0 : netFrom >= 0 || settles) return null;
  const k = through.lMinPerSqrtMm;
  if (k === 0) return (60 * litresPerMm * (toMm - fromMm)) / q;
  const root = (mm: number) => Math.sqrt(Math.max(0, mm + through.dropMm));
  const run = root(toMm) - root(fromMm);
  const x = (k * run) / netFrom;
  // Where the leak is a trifle against the inflow, the logarithm cancels the root almost wholly.
  if (q > 0 && Math.abs(x) < 1e-6 && k * root(toMm) < 1e-3 * q) {
    return (60 * litresPerMm * (toMm - fromMm)) / ((netFrom + netTo) / 2);
  }
  const log = q === 0 ? 0 : (q / k) * Math.log(netTo / netFrom);
  return (-60 * 2 * litresPerMm * (run + log)) / k;
}

/** Depth at which inflow and outlet balance, mm over the floor; null where nothing runs out. */
export function restingDepthMm(inflowLMin: number, through: Outlet): number | null {
  if (through.lMinPerSqrtMm === 0) return null;
  return (inflowLMin / through.lMinPerSqrtMm) ** 2 - through.dropMm;
}
