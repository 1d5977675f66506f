import type { LightPlan } from '../../../shared-types/light';
import type { Rack, Shelf, Tray } from '../../../shared-types/rack';
import { canopyHeightMm, potsOfTray, trayCanopyMm } from '../geometry';
import { fluxOfLamps, powerOfLamps } from '../lamps';
import type { PointMm } from './sources/direct';
import { dli } from './dli';
import { hoursOver } from './hours';
import { shelfModel } from './model';
import { Refusal, unlessRefused } from '../../words';
import { real } from '../entry';

/** Electricity and photons of one shelf's lamps. */
export interface ShelfEnergy {
  shelfId: string;
  /** Electrical power while the lamps burn. */
  powerW: number;
  kwhPerDay: number;
  kwhTotal: number;
  /** In the plan's currency; null without a price. */
  costPerDay: number | null;
  costTotal: number | null;
  /** Photons that leave the lamps; null where their light cannot be computed. */
  fluxUmolS: number | null;
  molPerDay: number | null;
  /** mol of photons per kWh, 3.6 × efficacy where all burn alike; null without power. */
  molPerKwh: number | null;
  /** Shares of the lamps' photons that land within the trays and on the pots' tops. */
  shareOnTrays: number | null;
  shareOnPots: number | null;
}

export interface LightEnergy {
  days: number;
  shelves: ShelfEnergy[];
  powerW: number;
  kwhPerDay: number;
  kwhTotal: number;
  costPerDay: number | null;
  costTotal: number | null;
}

const CELL_MM = 20;

/** Photons per second that land within a tray: mean over cells × area, µmol s⁻¹. */
function onTray(at: (points: PointMm[]) => Float64Array, tray: Tray, zMm: number): number {
  const columns = Math.max(1, Math.round(tray.widthMm / CELL_MM));
  const rows = Math.max(1, Math.round(tray.depthMm / CELL_MM));
  const points: PointMm[] = [];
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      points.push({
        xMm: tray.xMm + ((i + 0.5) * tray.widthMm) / columns,
        yMm: tray.yMm + ((j + 0.5) * tray.depthMm) / rows,
        zMm,
      });
    }
  }
  const sum = at(points).reduce((total, value) => total + value, 0);
  return (sum / points.length) * tray.widthMm * tray.depthMm * 1e-6;
}

/** Electricity of one shelf's lamps a day, kWh. */
function kwhOfShelf(rack: Rack, shelf: Shelf, lightPlan: LightPlan): number {
  const hoursAt = hoursOver(shelf, lightPlan);
  const wattHours = shelf.lamps.reduce(
    (sum, lamp) => sum + powerOfLamps(rack, [lamp]) * hoursAt(lamp.xMm, lamp.yMm),
    0,
  );
  return wattHours / 1000;
}

/** Electricity of all lamps a day, kWh, without a look at where their light goes. */
export const lampKwhPerDay = (rack: Rack, lightPlan: LightPlan): number =>
  rack.shelves.reduce((sum, shelf) => sum + kwhOfShelf(rack, shelf, lightPlan), 0);

function energyOfShelf(
  rack: Rack,
  shelf: Shelf,
  lightPlan: LightPlan,
  days: number,
  reflected: boolean,
): ShelfEnergy {
  const price = lightPlan.electricityPricePerKwh;
  const powerW = powerOfLamps(rack, shelf.lamps);
  const kwhPerDay = kwhOfShelf(rack, shelf, lightPlan);
  const photons = photonsOfShelf(rack, shelf, lightPlan, reflected);
  const flux = photons?.fluxUmolS ?? 0;
  return {
    shelfId: shelf.id,
    powerW,
    kwhPerDay,
    kwhTotal: kwhPerDay * days,
    costPerDay: price === null ? null : kwhPerDay * price,
    costTotal: price === null ? null : kwhPerDay * price * days,
    fluxUmolS: photons && flux,
    molPerDay: photons && photons.molPerDay,
    molPerKwh: photons && kwhPerDay > 0 ? photons.molPerDay / kwhPerDay : null,
    shareOnTrays: photons && flux > 0 ? photons.trays / flux : null,
    shareOnPots: photons && flux > 0 ? photons.tops / flux : null,
  };
}

/** Photons that leave the lamps and land within trays and on pots, µmol s⁻¹. */
interface Photons {
  fluxUmolS: number;
  molPerDay: number;
  trays: number;
  tops: number;
}

interface Followed {
  restsOn: readonly unknown[];
  photons: Photons | null;
}
const followed = new WeakMap<Shelf, Followed>();

/** Null where the shelf's light cannot be computed: a notice says why, and power is known still. */
function photonsOfShelf(
  rack: Rack,
  shelf: Shelf,
  lightPlan: LightPlan,
  reflected: boolean,
): Photons | null {
  const { canopyAt, photoperiodHours } = lightPlan;
  const restsOn = [rack.lampKinds, canopyAt, photoperiodHours, reflected];
  const last = followed.get(shelf);
  if (last && restsOn.every((part, i) => part === last.restsOn[i])) return last.photons;
  const photons = unlessRefused(() => countPhotons(rack, shelf, lightPlan, reflected));
  followed.set(shelf, { restsOn, photons });
  return photons;
}

/** Follows the photons of a rack, a shelf at each step: what asks for them afterwards has them at once. */
export function* followPhotons(rack: Rack, lightPlan: LightPlan): Generator<void> {
  for (const shelf of rack.shelves) {
    photonsOfShelf(rack, shelf, lightPlan, true);
    yield;
  }
}

function countPhotons(rack: Rack, shelf: Shelf, lightPlan: LightPlan, reflected: boolean): Photons {
  const fluxUmolS = fluxOfLamps(rack, shelf.lamps);
  const heightMm = canopyHeightMm(shelf, lightPlan.canopyAt);
  const model = shelfModel(shelf, rack.lampKinds, { heightMm, reflected });
  // The photons counted are those of the shelf's own lamps.
  const at = (points: PointMm[]) => model.at(points, undefined, () => 0);
  let trays = 0;
  let tops = 0;
  if (fluxUmolS > 0) {
    for (const tray of shelf.trays) {
      const zMm = trayCanopyMm(shelf, tray, lightPlan.canopyAt);
      trays += onTray(at, tray, zMm);
      const pots = potsOfTray(shelf, tray);
      const ppfd = at(pots.map(({ xMm, yMm }) => ({ xMm, yMm, zMm })));
      pots.forEach((pot, i) => {
        tops += real(ppfd, i) * Math.PI * (pot.diameterMm / 2000) ** 2;
      });
    }
  }
  const hoursAt = hoursOver(shelf, lightPlan);
  const molPerDay = shelf.lamps.reduce(
    (sum, lamp) => sum + dli(fluxOfLamps(rack, [lamp]), hoursAt(lamp.xMm, lamp.yMm)),
    0,
  );
  return { fluxUmolS, molPerDay, trays, tops };
}

/**
 * Electricity of the lamps over a trial of `days` days (kWh = W · h · d / 1000), its cost, and how
 * much of the light reaches trays and pots by the estimate without readings; null where the light
 * of a shelf cannot be computed. Throws where a lamp has no kind.
 */
export function lightEnergy(
  rack: Rack,
  lightPlan: LightPlan,
  days: number,
  { reflected = true }: { reflected?: boolean } = {},
): LightEnergy {
  if (!(days >= 0 && Number.isFinite(days))) {
    throw new Refusal(`trial of ${days} days: zero or more is expected`);
  }
  const shelves = rack.shelves.map((shelf) =>
    energyOfShelf(rack, shelf, lightPlan, days, reflected),
  );
  const sum = (value: (shelf: ShelfEnergy) => number) =>
    shelves.reduce((total, shelf) => total + value(shelf), 0);
  const priced = lightPlan.electricityPricePerKwh !== null;
  return {
    days,
    shelves,
    powerW: sum((s) => s.powerW),
    kwhPerDay: sum((s) => s.kwhPerDay),
    kwhTotal: sum((s) => s.kwhTotal),
    costPerDay: priced ? sum((s) => s.costPerDay ?? 0) : null,
    costTotal: priced ? sum((s) => s.costTotal ?? 0) : null,
  };
}
