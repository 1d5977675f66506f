import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { circuitLoad } from '../../renderer/engine/flood/circuits';
import { floodFigures } from '../../renderer/engine/flood/flood';
import { restingDepthMm, secondsBetween } from '../../renderer/engine/flood/tray/level';
import { fullSiphon, hole, outflowLMin, SHUT } from '../../renderer/engine/flood/tray/outlet';
import { pipeLossM } from '../../renderer/engine/flood/tray/pipe';
import { workingPoint } from '../../renderer/engine/flood/pump';
import { waterDensityKgM3 } from '../../renderer/engine/flood/water';
import { neededReservoirL, RESERVOIR_MARGIN } from '../../renderer/engine/flood/zoneFlood';
import { aFlood, aPlan, aTray } from '../engine/flood/plans';

/** Source of every expected value: trade-facts.md, sections 4 and 5. */
const sheet = readFileSync(new URL('./trade-facts.md', import.meta.url), 'utf8');

/** A figure of the sheet, made sure that it stands there. */
function fact(figure: string): number {
  if (!sheet.includes(figure)) throw new Error(`trade-facts.md has no figure ${figure}`);
  return Number(figure);
}

const near = (found: number | null, figure: string, digits = 9) => {
  const expected = fact(figure);
  expect(found).not.toBeNull();
  expect(Math.abs((found ?? NaN) / expected - 1)).toBeLessThan(10 ** -digits);
};

/** The sheet's tray: 1.2 m by 0.6 m, flooded 40 mm deep. */
const shelfTray = aTray({ widthMm: 1200, depthMm: 600, rimHeightMm: 60, grid: null });

const gridOf18 = {
  pattern: 'square' as const,
  rows: 3,
  columns: 6,
  pitchXMm: 200,
  pitchYMm: 200,
  potDiameterMm: 100,
  potHeightMm: 100,
  firstXMm: 100,
  firstYMm: 100,
  guardRing: false,
  guards: [],
  empty: [],
};

function figuresOf(tray: typeof shelfTray, change: Parameters<typeof aFlood>[0] = {}) {
  const plan = aPlan(tray, aFlood(change));
  const figures = floodFigures(plan.rack, aFlood(change));
  const only = figures.trays.get(tray.id);
  if (!only) throw new Error('the tray has no figures');
  return { figures, tray: only };
}

describe('volumes (4.1)', () => {
  it('fills an empty tray to the crest', () => {
    near(figuresOf(shelfTray).tray.firstL, '28.8');
  });

  it('leaves out what solid pots displace', () => {
    const solid = {
      id: 'm9',
      name: 'solid',
      porosity: 0,
      dryDensityKgM3: 1000,
      waterAtDrainShare: 0,
      trayIds: ['t11'],
    };
    const { tray } = figuresOf({ ...shelfTray, grid: gridOf18 }, { media: [solid] });
    near(tray.firstL, '23.14513322');
    near(28.8 - tray.firstL, '5.654866776');
  });

  it('holds less in a tray that falls 12 mm end to end', () => {
    const slope = { trayId: 't11', rightMmPerM: 10, backMmPerM: 0, drainAt: 'lowest' as const };
    near(figuresOf(shelfTray, { slopes: [slope] }).tray.firstL, '24.48');
  });
});

describe('filling with an open leak (4.2)', () => {
  it.each([
    [0.61, '268.1576106'],
    [0.62, '268.3102937'],
  ])('takes longer through a 4 mm hole of Cd %s', (cd, seconds) => {
    near(secondsBetween(0.72, 10, hole(4, cd), 0, 60), seconds);
  });

  it('takes A H / Q without a leak', () => {
    near(secondsBetween(0.72, 10, SHUT, 0, 60), '259.2');
  });

  it('leaks so much at the crest', () => {
    near(outflowLMin(hole(4, 0.61), 60), '0.4989326331');
  });

  it('comes to rest over a 25 mm drain left open, and never arrives', () => {
    near(restingDepthMm(10, hole(25, 0.61)), '15.79600856');
    expect(secondsBetween(0.72, 10, hole(25, 0.61), 0, 60)).toBeNull();
  });
});

describe('draining (4.3)', () => {
  it.each([
    [0.6, 0, '246.8601619'],
    [0.61, 0, '242.8132740'],
    [0.62, 0, '238.8969309'],
    [0.8, 0, '185.1451215'],
    [0.61, 5, '166.0289748'],
    [0.61, 10, '134.2238767'],
  ])('with Cd %s from 50 mm to %s mm', (cd, toMm, seconds) => {
    near(secondsBetween(0.72, 0, hole(25, cd), 50, toMm), seconds);
  });

  it('begins with the first flow', () => {
    near(outflowLMin(hole(25, 0.61), 50), '17.79144908');
  });
});

describe('siphons (4.4)', () => {
  it.each([
    [300, 0, '45.72324933'],
    [300, 3, '22.86162467'],
    [500, 0, '59.02846107'],
    [500, 3, '29.51423053'],
    [500, 2.75, '30.48216622'],
  ])('with %s mm of drop and losses of %s velocity heads', (dropMm, losses, flow) => {
    near(outflowLMin(fullSiphon(20, losses, dropMm), 0), flow);
    // Water over the floor adds to the drop.
    near(outflowLMin(fullSiphon(20, losses, dropMm - 40), 40), flow);
  });
});

describe('pipe and pump (4.5, 4.6)', () => {
  it('loses head by Blasius in small tube, more than the empirical formula for large ones', () => {
    near(pipeLossM({ lengthM: 10, boreMm: 16, lossFactor: 0 }, 10), '0.6461188770', 8);
    const empirical = fact('0.5591924877');
    expect(1 - empirical / fact('0.6461188770')).toBeCloseTo(0.13, 2);
  });

  it('works where curve and system meet', () => {
    // H = 3 (1 − (Q/20)²), as a curve of 2001 points; straight lines between them cost 1e-6.
    const curve = Array.from({ length: 2001 }, (_, i) => ({
      flowLMin: i / 100,
      headM: 3 * (1 - (i / 2000) ** 2),
    }));
    const pump = { name: 'pump', powerW: 20, curve };
    const point = workingPoint(pump, 1.2, (q) => 0.006 * q * q);
    near(point?.flowLMin ?? null, '11.54700538', 6);
    expect(point?.headM).toBeCloseTo(2, 5);
    const minutes = (secondsBetween(0.72, point?.flowLMin ?? 0, SHUT, 0, 40) ?? NaN) / 60;
    near(minutes, '2.494153163', 6);
    const hazenWilliams = (q: number) =>
      (10.67 * 6 * (q / 60_000) ** 1.852) / (150 ** 1.852 * 0.016 ** 4.8704);
    near(workingPoint(pump, 1.2, hazenWilliams)?.flowLMin ?? null, '12.95251803', 6);
    expect(workingPoint(pump, 3, () => 0)).toBeNull();
  });
});

describe('reservoir (4.7)', () => {
  it('sums draw, uptake and heel, and a fifth more', () => {
    const needed = neededReservoirL(2 * 28.8, 36 * 0.15, 10);
    near(needed, '73');
    near(needed * RESERVOIR_MARGIN, '87.6');
  });
});

describe('weight and electricity (5)', () => {
  it.each([
    [0, '999.83952'],
    [4, '999.97199'],
    [10, '999.69963'],
    [15, '999.09961'],
    [20, '998.20413'],
    [25, '997.04490'],
    [30, '995.64726'],
  ])('water at %s °C', (celsius, density) => {
    near(waterDensityKgM3(celsius), density, 8);
  });

  it('weighs the flooded shelf', () => {
    // Pots of 0.9 kg that displace nothing: 0.9 kg over their own volume, all of it pores.
    const potM3 = (Math.PI / 4) * 0.1 ** 2 * 0.1;
    const medium = {
      id: 'm9',
      name: 'as weighed',
      porosity: 1,
      dryDensityKgM3: 0.9 / potM3,
      waterAtDrainShare: 0,
      trayIds: ['t11'],
    };
    const flood = aFlood({ media: [medium], trayMassKg: 6 });
    const tray = { ...shelfTray, grid: gridOf18 };
    const plan = aPlan(tray, flood, { lamps: 3, lampKg: 1.5 });
    // While the pump runs the overflow holds the level a little over the crest: here it never runs.
    const [load] = floodFigures(plan.rack, {
      ...flood,
      zones: flood.zones.map((zone) => ({ ...zone, schedule: [] })),
    }).loads;
    near(load?.casesKg.flooded ?? null, '55.44827901');
    near((load?.casesKg.flooded ?? 0) - 6 - 18 * 0.9 - 4.5, '28.74827901');
  });

  it.each([
    [230, 1, '1.043478261'],
    [230, 0.9, '1.159420290'],
    [120, 1, '2'],
  ])('draws at %s V and power factor %s', (voltageV, powerFactor, amperes) => {
    const circuit = {
      id: 'c1',
      name: 'circuit',
      breakerA: 16,
      voltageV,
      powerFactor,
      shelfIds: [],
      zoneIds: [],
      otherW: 240,
    };
    const load = circuitLoad(aFlood(), { shelves: [], lampKinds: [] }, circuit);
    near(load.currentA, amperes);
    near(load.continuousA, '12.8');
  });
});
