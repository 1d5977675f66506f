import type { Shelf, Tray } from '../../../../shared-types/rack';
import type { Pot } from '../../geometry';
import { pottedPots, type PottedFlood, type PottedPot } from './potted';
import { tiltOf, wedgeL, type Tilt } from './tilt';
import { num } from '../../entry';

/** Water between two depths at the drain; within a layer the free area is constant. */
export interface Layer {
  fromMm: number;
  toMm: number;
  areaM2: number;
}

/** A tray as a vessel. Depths are over the floor at the drain's foot, mm. */
export interface Basin {
  /** Litres of water in the tray, with what the media soak up, from dry to this depth. */
  volumeL: (depthMm: number) => number;
  /** From the lowest corner's floor (0 or below) to the depth at which the lowest rim runs over. */
  layers: readonly Layer[];
  emptyMm: number;
  rimMm: number;
}

export interface TrayVessel {
  tray: Tray;
  shelf: Shelf;
  pots: readonly PottedPot[];
  tilt: Tilt;
  /** With dry media, and with media that were flooded and drained before. */
  first: Basin;
  later: Basin;
}

/** Layers of a tilted tray; its area changes smoothly, and 60 steps keep times within 0.1 %. */
const SLICES = 60;

export function vesselOf(flood: PottedFlood, shelf: Shelf, tray: Tray): TrayVessel {
  const last = known.get(tray);
  if (last?.flood === flood && last.vessel.shelf === shelf) return last.vessel;
  const vessel = reckoned(flood, shelf, tray);
  known.set(tray, { flood, vessel });
  return vessel;
}

// Of a rack in which one tray moves, the other shelves hold what they held.
const known = new WeakMap<Tray, { flood: PottedFlood; vessel: TrayVessel }>();

function reckoned(flood: PottedFlood, shelf: Shelf, tray: Tray): TrayVessel {
  const pots = pottedPots(flood, shelf, tray);
  const slope = flood.slopes.find((s) => s.trayId === tray.id);
  const tilt = tiltOf(tray, slope);
  // Without a stated medium a pot displaces nothing: that errs to more water and longer times.
  const dryPores = ({ medium }: PottedPot) => (medium ? medium.porosity : 1);
  const drainedPores = ({ medium }: PottedPot) =>
    medium ? Math.max(0, medium.porosity - medium.waterAtDrainShare) : 1;
  return {
    tray,
    shelf,
    pots,
    tilt,
    first: basinOf(tray, pots, tilt, pots.map(dryPores)),
    later: basinOf(tray, pots, tilt, pots.map(drainedPores)),
  };
}

/** Depth at a pot's centre when it is `depthMm` at the drain. */
export function depthAtPotMm(vessel: TrayVessel, pot: Pot, depthMm: number): number {
  const { tray, tilt } = vessel;
  return Math.max(0, depthMm - tilt.riseMm(pot.xMm - tray.xMm, pot.yMm - tray.yMm));
}

/**
 * Water in a tray with pots as upright cylinders, of whose submerged volume only the share `pores`
 * of each takes up water: V = ∫ depth dA − Σ a · min(depth, pot height) · (1 − pores). Pots drawn one over
 * another cannot keep out more water than the tray holds; they count for its floor at most.
 */
function basinOf(tray: Tray, pots: readonly Pot[], tilt: Tilt, pores: readonly number[]): Basin {
  const offset = tilt.drainOverLowestMm;
  const rises = pots.map((pot) => tilt.riseMm(pot.xMm - tray.xMm, pot.yMm - tray.yMm));
  const potMm2 = pots.reduce((sum, pot) => sum + (Math.PI / 4) * pot.diameterMm ** 2, 0);
  const room = potMm2 > 0 ? Math.min(1, (tray.widthMm * tray.depthMm) / potMm2) : 1;
  const volumeL = (depthMm: number): number => {
    let litres = wedgeL(tray.widthMm, tray.depthMm, tilt.perMmX, tilt.perMmY, depthMm + offset);
    pots.forEach((pot, i) => {
      const under = Math.min(pot.heightMm, Math.max(0, depthMm - num(rises, i)));
      litres -= ((Math.PI / 4) * pot.diameterMm ** 2 * room * under * (1 - (pores[i] ?? 1))) / 1e6;
    });
    return Math.max(0, litres);
  };
  const emptyMm = -offset;
  const rimMm = tray.rimHeightMm - offset;
  const edges = [emptyMm, 0, ...pots.map(({ heightMm }) => heightMm), rimMm];
  if (tilt.fallMm > 0) {
    for (let i = 1; i < SLICES; i++) edges.push(emptyMm + (i / SLICES) * tray.rimHeightMm);
  }
  const depths = [...new Set(edges)]
    .filter((depth) => depth >= emptyMm && depth <= rimMm)
    .sort((a, b) => a - b);
  const layers: Layer[] = [];
  for (let i = 1; i < depths.length; i++) {
    const fromMm = num(depths, i - 1);
    const toMm = num(depths, i);
    const litres = Math.max(0, volumeL(toMm) - volumeL(fromMm));
    layers.push({ fromMm, toMm, areaM2: litres / (toMm - fromMm) });
  }
  return { volumeL, layers, emptyMm, rimMm };
}
