import type { FloodZone } from '../../../../shared-types/flood';
import { GRAVITY, M3_S_PER_L_MIN } from '../water';

/**
 * What lets water out of a tray: flow = coefficient × √(depth + drop), in L/min and mm. A hole at
 * the floor has no drop; a siphon pulls with the height of its free outlet below the floor.
 */
export interface Outlet {
  lMinPerSqrtMm: number;
  dropMm: number;
}

export const SHUT: Outlet = { lMinPerSqrtMm: 0, dropMm: 0 };

const boreAreaM2 = (boreMm: number) => (Math.PI / 4) * (boreMm / 1000) ** 2;

/** From the speed at 1 m of head, m s⁻¹, through a round bore. */
function outlet(boreMm: number, speedAt1mMs: number, dropMm: number): Outlet {
  const m3sPerSqrtM = boreAreaM2(boreMm) * speedAt1mMs;
  return { lMinPerSqrtMm: m3sPerSqrtM / M3_S_PER_L_MIN / Math.sqrt(1000), dropMm };
}

/** A round hole at the floor: Q = Cd a √(2 g h) (Torricelli's law). */
export function hole(boreMm: number, dischargeCoefficient: number): Outlet {
  return outlet(boreMm, dischargeCoefficient * Math.sqrt(2 * GRAVITY), 0);
}

/** A tube running full to a free outlet: v = √(2 g Δ / (1 + ΣK)), Δ from water to outlet. */
export function fullSiphon(boreMm: number, lossFactor: number, dropMm: number): Outlet {
  return outlet(boreMm, Math.sqrt((2 * GRAVITY) / (1 + lossFactor)), dropMm);
}

/** Flow at a depth over the tray's floor, L/min. */
export function outflowLMin(through: Outlet, depthMm: number): number {
  return through.lMinPerSqrtMm * Math.sqrt(Math.max(0, depthMm + through.dropMm));
}

/**
 * How far the water must stand over the lip of an upright pipe for it to swallow a flow, mm: first
 * as a round weir, Q = ⅔ Cd √(2g) π D h^1.5, and as a hole, Q = Cd a √(2 g h), once that passes
 * less. The pipe below is taken to run away freely.
 */
export function overLipMm(flowLMin: number, boreMm: number, dischargeCoefficient: number): number {
  if (flowLMin <= 0) return 0;
  const q = flowLMin * M3_S_PER_L_MIN;
  const { weir, hole: asHole } = lip(boreMm, dischargeCoefficient);
  return Math.max((q / weir) ** (2 / 3), (q / asHole) ** 2) * 1000;
}

/** The flow that goes over the lip of an upright pipe under so much water, L/min. */
export function overLipLMin(overMm: number, boreMm: number, dischargeCoefficient: number): number {
  if (overMm <= 0) return 0;
  const overM = overMm / 1000;
  const { weir, hole: asHole } = lip(boreMm, dischargeCoefficient);
  return Math.min(weir * overM ** 1.5, asHole * Math.sqrt(overM)) / M3_S_PER_L_MIN;
}

/** Flow over a lip at 1 m of water, m³ s⁻¹, as a weir and as a hole. */
function lip(boreMm: number, dischargeCoefficient: number): { weir: number; hole: number } {
  const fall = dischargeCoefficient * Math.sqrt(2 * GRAVITY);
  return {
    weir: (2 / 3) * fall * Math.PI * (boreMm / 1000),
    hole: fall * boreAreaM2(boreMm),
  };
}

/** The outlet that empties a tray, and the one that leaks while its pump runs. */
export function outletsOf(zone: Pick<FloodZone, 'drain' | 'dischargeCoefficient'>): {
  emptying: Outlet;
  leak: Outlet;
} {
  const { drain, dischargeCoefficient: cd } = zone;
  switch (drain.kind) {
    case 'standpipe': {
      const back = hole(drain.returnBoreMm, cd);
      return { emptying: back, leak: drain.returnThrough === 'hole' ? back : SHUT };
    }
    case 'siphon':
      return { emptying: fullSiphon(drain.boreMm, drain.lossFactor, drain.dropMm), leak: SHUT };
    case 'valve':
      return { emptying: hole(drain.boreMm, cd), leak: SHUT };
  }
}
