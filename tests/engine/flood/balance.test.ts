import { describe, expect, it } from 'vitest';
import { vesselOf } from '../../../renderer/engine/flood/tray/basin';
import { runTo } from '../../../renderer/engine/flood/tray/course';
import { hole } from '../../../renderer/engine/flood/tray/outlet';
import { floodFigures } from '../../../renderer/engine/flood/flood';
import { wedgeL } from '../../../renderer/engine/flood/tray/tilt';
import { depthAt } from '../../../renderer/engine/flood/working';
import { aFlood, aPlan, aTray, aZone } from './plans';

/**
 * The closed forms against a water balance by small steps, written without them: volume changes by
 * inflow less outflow (trade-facts.md 4.2 to 4.4, g = 9.80665), depth follows from volume by search.
 */
const G = 9.80665;
const areaM2 = (boreMm: number) => (Math.PI / 4) * (boreMm / 1000) ** 2;

interface Vessel {
  /** Litres at a depth in mm. */
  volumeL: (mm: number) => number;
}

function depthOf(vessel: Vessel, litres: number): number {
  let low = 0;
  let high = 200;
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (vessel.volumeL(middle) < litres) low = middle;
    else high = middle;
  }
  return low;
}

/** Seconds from one depth to another with steps of 0.05 s. */
function simulate(
  vessel: Vessel,
  inflowLMin: number,
  outLMin: (mm: number) => number,
  fromMm: number,
  toMm: number,
): number {
  const step = 0.05;
  let litres = vessel.volumeL(fromMm);
  const goal = vessel.volumeL(toMm);
  const up = goal > litres;
  let depth = fromMm;
  for (let i = 0; i < 40_000; i++) {
    const net = (inflowLMin - outLMin(depth)) / 60;
    // Heun's second stage, so that the steps' own error stays far under the tolerance.
    const ahead = depthOf(vessel, Math.max(0, litres + net * step));
    const slope = (net + (inflowLMin - outLMin(ahead)) / 60) / 2;
    litres += slope * step;
    depth = depthOf(vessel, litres);
    if (up ? litres >= goal : litres <= goal) return (i + 1) * step;
  }
  return Infinity;
}

// 18 pots, 100 mm across and 100 mm high, 60 % of their room open to water: level tray.
const pots = { count: 18, areaMm2: (Math.PI / 4) * 100 ** 2, heightMm: 30 };
const level: Vessel = {
  volumeL: (mm) =>
    (1200 * 600 * mm - pots.count * pots.areaMm2 * Math.min(mm, pots.heightMm) * 0.4) / 1e6,
};
const medium = {
  id: 'm9',
  name: 'bark',
  porosity: 0.6,
  dryDensityKgM3: 300,
  waterAtDrainShare: 0,
  trayIds: ['t11'],
};

const { grid } = aTray();
const lowPots = aTray({ grid: grid && { ...grid, potHeightMm: 30 } });

const flood = aFlood({ media: [medium] });
const shelf = aPlan(lowPots, flood).rack.shelves[0];
if (!shelf) throw new Error('the plan has no shelf');
const basin = vesselOf(flood, shelf, lowPots).later;
const torricelli = (boreMm: number, cd: number) => (mm: number) =>
  cd * areaM2(boreMm) * Math.sqrt((2 * G * Math.max(0, mm)) / 1000) * 60_000;

describe('closed forms against small steps', () => {
  it('agree on the volume with pots that are lower than the water', () => {
    for (const mm of [5, 30, 45]) expect(basin.volumeL(mm)).toBeCloseTo(level.volumeL(mm), 9);
  });

  it('fill through a leak', () => {
    const course = runTo(basin, 10, hole(6, 0.61), 0, 40);
    const steps = simulate(level, 10, torricelli(6, 0.61), 0, 40);
    expect(course.seconds / steps).toBeCloseTo(1, 3);
  });

  it('drain by Torricelli', () => {
    const course = runTo(basin, 0, hole(20, 0.61), 40, 2);
    const steps = simulate(level, 0, torricelli(20, 0.61), 40, 2);
    expect(course.seconds / steps).toBeCloseTo(1, 3);
  });

  it('empty by a siphon while the pump runs on', () => {
    const zone = aZone({
      drain: { kind: 'siphon', boreMm: 20, dropMm: 300, lossFactor: 3, tripFlowLMin: 5 },
    });
    const full = (mm: number) => areaM2(20) * Math.sqrt((2 * G * (mm + 300)) / 1000 / 4) * 60_000;
    const figures = floodFigures(aPlan(lowPots, aFlood({ media: [medium] })).rack, {
      ...flood,
      zones: [zone],
    });
    const tray = figures.trays.get('t11');
    if (!tray) throw new Error('no tray');
    const start = 6 * 3600;
    const fill = simulate(level, 10, () => 0, 2, 40);
    const empty = simulate(level, 10, full, 40, 2);
    // After one filling and one emptying the tray of the simulation is at its residual depth.
    expect(depthAt(tray.course, start + fill)).toBeCloseTo(40, 0);
    expect(depthAt(tray.course, start + fill + empty)).toBeCloseTo(2, 0);
    expect(tray.siphon?.fullAtCrestLMin).toBeCloseTo(full(40), 9);
  });

  it('drain a tray that is not level', () => {
    const slopes = [{ trayId: 't11', rightMmPerM: 12, backMmPerM: -9, drainAt: 'lowest' as const }];
    const bare = aTray({ grid: null });
    const tilted = vesselOf(aFlood({ slopes }), shelf, bare).later;
    // Volume by summing 240 × 120 columns of water, the floor rising to the right and to the front.
    const columns: Vessel = {
      volumeL: (mm) => {
        let sum = 0;
        for (let i = 0; i < 240; i++) {
          for (let j = 0; j < 120; j++) {
            const x = (i + 0.5) * 5;
            const y = (j + 0.5) * 5;
            sum += Math.max(0, mm - 0.012 * x - 0.009 * (600 - y)) * 25;
          }
        }
        return sum / 1e6;
      },
    };
    for (const mm of [3, 10, 17, 19, 40]) {
      expect(tilted.volumeL(mm) / columns.volumeL(mm)).toBeCloseTo(1, 2);
    }
    const table = Array.from({ length: 401 }, (_, i) => columns.volumeL(i / 10));
    const looked: Vessel = {
      volumeL: (mm) => {
        const at = Math.min(399, Math.max(0, Math.floor(mm * 10)));
        const a = table[at] ?? 0;
        return a + ((table[at + 1] ?? 0) - a) * (mm * 10 - at);
      },
    };
    const course = runTo(tilted, 0, hole(20, 0.61), 40, 5);
    const steps = simulate(looked, 0, torricelli(20, 0.61), 40, 5);
    expect(course.seconds / steps).toBeCloseTo(1, 2);
  });

  it('give back what came in: a wedge and its complement make a box', () => {
    // Turned upside down, the dry part of a box is a wedge of the same floor.
    const [w, d, h] = [800, 500, 30];
    const [s, t] = [0.05, 0.02];
    const under = wedgeL(w, d, s, t, h);
    const deepest = s * w + t * d;
    // Volume of floor under the level h: box minus water, by a column sum.
    let floor = 0;
    for (let i = 0; i < 400; i++) {
      for (let j = 0; j < 250; j++) {
        floor += Math.min(h, s * (2 * i + 1) + t * (2 * j + 1)) * 4;
      }
    }
    expect(under + floor / 1e6).toBeCloseTo((w * d * h) / 1e6, 4);
    expect(wedgeL(w, d, s, t, deepest)).toBeCloseTo((w * d * deepest) / 2 / 1e6, 9);
  });
});
