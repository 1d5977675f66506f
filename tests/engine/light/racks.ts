import type { LightPlan } from '../../../shared-types/light';
import type { Lamp, LampKind, Shelf } from '../../../shared-types/rack';
import { kindOf, lampOf, shelfOf, trayOf } from '../../builders/rackParts';

/** Small builders for the light tests: only what a case is about needs to be stated. */

export function kind(change: Partial<LampKind> = {}): LampKind {
  const output = { kind: 'photons' as const, fluxUmolS: 40 };
  return kindOf({ name: 'strip 120', widthMm: 0, output, powerW: 20, ...change });
}

export function lamp(change: Partial<Lamp> = {}): Lamp {
  return lampOf({ zMm: 300, group: 'A', ...change });
}

export { trayOf as tray } from '../../builders/rackParts';

/** Without a plant, and without anything that reflects. */
export function shelf(change: Partial<Shelf> = {}): Shelf {
  return shelfOf({
    heightMm: 200,
    clearanceMm: 500,
    canopy: { plantingMm: 0, harvestMm: 0 },
    reflectances: { above: 0, canopy: 0, front: 0, back: 0, left: 0, right: 0 },
    ...change,
  });
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
    trays: [trayOf()],
  });
}
