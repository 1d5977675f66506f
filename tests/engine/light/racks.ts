import type { Lamp, LampKind, Shelf, Tray } from '../../../shared-types/rack';
import type { LightPlan } from '../../../shared-types/light';

/** Small builders for the light tests: only what a case is about needs to be stated. */

export function kind(change: Partial<LampKind> = {}): LampKind {
  return {
    id: 'k1',
    name: 'strip 120',
    shape: 'strip',
    lengthMm: 1200,
    widthMm: 0,
    emission: { kind: 'lambertian' },
    output: { kind: 'photons', fluxUmolS: 40 },
    powerW: 20,
    massKg: 1,
    ...change,
  };
}

export function lamp(change: Partial<Lamp> = {}): Lamp {
  return {
    id: 'l1',
    kindId: 'k1',
    xMm: 600,
    yMm: 300,
    zMm: 300,
    rotationDeg: 0,
    tiltDeg: 0,
    dimming: 1,
    group: 'A',
    ...change,
  };
}

export function tray(change: Partial<Tray> = {}): Tray {
  return {
    id: 't1',
    letter: 'A',
    xMm: 0,
    yMm: 0,
    widthMm: 1200,
    depthMm: 600,
    rimHeightMm: 60,
    grid: {
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
    },
    ...change,
  };
}

export function shelf(change: Partial<Shelf> = {}): Shelf {
  return {
    id: 's1',
    number: 1,
    widthMm: 1200,
    depthMm: 600,
    heightMm: 200,
    clearanceMm: 500,
    ratedLoadKg: null,
    canopy: { plantingMm: 0, harvestMm: 0 },
    reflectances: { above: 0, canopy: 0, front: 0, back: 0, left: 0, right: 0 },
    trays: [],
    lamps: [],
    ...change,
  };
}

export function lightPlan(change: Partial<LightPlan> = {}): LightPlan {
  return {
    photoperiodHours: 16,
    canopyAt: 'planting',
    targetPpfdUmol: null,
    lowestMinToMean: 0.8,
    readings: [],
    electricityPricePerKwh: null,
    currency: 'EUR',
    ...change,
  };
}

/** The trade sheet's tray with three strips at a quarter, half and three quarters… (section 1.4). */
export function threeStrips(): Shelf {
  return shelf({
    lamps: [100, 300, 500].map((yMm, i) => lamp({ id: `l${i + 1}`, yMm })),
    trays: [tray()],
  });
}
