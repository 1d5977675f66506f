import { emptyPlan } from '../../renderer/document/new';
import type { Plan } from '../../shared-types/plan';
import type { Lamp, LampKind, PotGrid, Shelf, Tray } from '../../shared-types/rack';

/**
 * The parts of a rack as tests need them: a shelf of 1200 × 600 mm, a tray over all of it with 3 × 6
 * pots, a strip over its middle. A case states only what it is about.
 */

export function gridOf(change: Partial<PotGrid> = {}): PotGrid {
  return {
    pattern: 'square',
    rows: 3,
    columns: 6,
    pitchXMm: 200,
    pitchYMm: 200,
    potDiameterMm: 100,
    potHeightMm: 80,
    firstXMm: 100,
    firstYMm: 100,
    guardRing: false,
    guards: [],
    empty: [],
    ...change,
  };
}

export function trayOf(change: Partial<Tray> = {}): Tray {
  return {
    id: 't1',
    letter: 'A',
    xMm: 0,
    yMm: 0,
    widthMm: 1200,
    depthMm: 600,
    rimHeightMm: 60,
    grid: gridOf(),
    ...change,
  };
}

export function kindOf(change: Partial<LampKind> = {}): LampKind {
  return {
    id: 'k1',
    name: 'strip',
    shape: 'strip',
    lengthMm: 1200,
    widthMm: 20,
    emission: { kind: 'lambertian' },
    output: { kind: 'photons', fluxUmolS: 80 },
    powerW: 40,
    massKg: 1,
    ...change,
  };
}

export function lampOf(change: Partial<Lamp> = {}): Lamp {
  return {
    id: 'l1',
    kindId: 'k1',
    xMm: 600,
    yMm: 300,
    zMm: 400,
    rotationDeg: 0,
    tiltDeg: 0,
    dimming: 1,
    group: 'shelf 1',
    ...change,
  };
}

export function shelfOf(change: Partial<Shelf> = {}): Shelf {
  return {
    id: 's1',
    number: 1,
    widthMm: 1200,
    depthMm: 600,
    heightMm: 300,
    clearanceMm: 450,
    ratedLoadKg: null,
    canopy: { plantingMm: 80, harvestMm: 200 },
    reflectances: { above: 0.5, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 },
    trays: [],
    lamps: [],
    ...change,
  };
}

/** A plan of nothing but a rack; its ids may go up to 99. */
export function planOf(title: string, rack: Plan['rack']): Plan {
  return { ...emptyPlan(title), nextId: 100, rack };
}
