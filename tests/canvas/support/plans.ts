import { emptyPlan } from '../../../renderer/document/new';
import type { Plan } from '../../../shared-types/plan';
import type { Lamp, LampKind, PotGrid, Shelf, Tray } from '../../../shared-types/rack';

export function gridOf(change: Partial<PotGrid> = {}): PotGrid {
  return {
    pattern: 'square',
    rows: 4,
    columns: 5,
    pitchXMm: 100,
    pitchYMm: 100,
    potDiameterMm: 90,
    potHeightMm: 80,
    firstXMm: 50,
    firstYMm: 50,
    guardRing: false,
    guards: [],
    empty: [],
    ...change,
  };
}

export function trayOf(id: string, letter: string, change: Partial<Tray> = {}): Tray {
  return {
    id,
    letter,
    xMm: 0,
    yMm: 0,
    widthMm: 500,
    depthMm: 400,
    rimHeightMm: 60,
    grid: gridOf(),
    ...change,
  };
}

export const stripKind: LampKind = {
  id: 'k1',
  name: 'Strip',
  shape: 'strip',
  lengthMm: 1000,
  widthMm: 20,
  emission: { kind: 'lambertian' },
  output: { kind: 'photons', fluxUmolS: 80 },
  powerW: 36,
  massKg: 1,
};

export function lampOf(id: string, change: Partial<Lamp> = {}): Lamp {
  return {
    id,
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

export function shelfOf(id: string, number: number, change: Partial<Shelf> = {}): Shelf {
  return {
    id,
    number,
    widthMm: 1200,
    depthMm: 600,
    heightMm: 300 + (number - 1) * 500,
    clearanceMm: 450,
    ratedLoadKg: null,
    canopy: { plantingMm: 80, harvestMm: 200 },
    reflectances: { above: 0.5, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 },
    trays: [],
    lamps: [],
    ...change,
  };
}

export function planOf(shelves: Shelf[]): Plan {
  return { ...emptyPlan('Canvas'), nextId: 100, rack: { shelves, lampKinds: [stripKind] } };
}
