import type { LightPlan, RotaPeriod, TrayPlace } from '../../../shared-types/light';
import type { Rack, Shelf, Tray } from '../../../shared-types/rack';
import {
  canopyHeightMm,
  findTray,
  potsOfTray,
  trayCanopyMm,
  trayCode,
  type Pot,
} from '../geometry';
import type { PointMm } from './sources/direct';
import { dli } from './dli';
import { hoursOver, shelfAfter } from './hours';
import { evenness, type Evenness } from './evenness';
import { shelfInRoom } from '../lamps';
import { shelfLight, type ShelfLight } from './shelfLight';
import { spellsOf } from './spells';
import { say, type UnitSystem, Refusal, reasonOf } from '../../words';
import { real } from '../entry';

export interface RotatedPot {
  potId: string;
  /** Mean over the days of the trial. */
  ppfdUmol: number;
  dliMol: number;
  /** Over its places, and as it grows. */
  lowestUmol: number;
  highestUmol: number;
}

export interface RotatedLight {
  pots: ReadonlyMap<string, RotatedPot>;
  /** Over the pots that are not guard pots: as drawn, and with the rota. */
  still: Evenness | null;
  rotated: Evenness | null;
}

// Trays that swap places must be of one size; figures are typed to the millimetre.
const SAME_SIZE_MM = 2;

function trayOf(rack: Rack, id: string): { shelf: Shelf; tray: Tray } {
  const found = findTray(rack, id);
  if (!found)
    throw new Refusal(`rota, tray ${id}: not on the rack; a tray of the rack is expected`);
  return found;
}

const codeOf = (rack: Rack, id: string): string => {
  const { shelf, tray } = trayOf(rack, id);
  return trayCode(shelf.number, tray.letter);
};

/** Where every tray stands in a period: the drawn tray whose place it takes. Throws on clashes. */
function standsOf(
  rack: Rack,
  places: RotaPeriod['places'],
  lengths: UnitSystem,
): Map<string, TrayPlace> {
  const sizeOf = ({ widthMm, depthMm }: Tray) =>
    `${say('length', lengths, widthMm)} × ${say('length', lengths, depthMm)}`;
  const stands = new Map<string, TrayPlace>();
  const taken = new Map<string, string>();
  for (const id of Object.keys(places)) trayOf(rack, id);
  for (const shelf of rack.shelves) {
    for (const tray of shelf.trays) {
      const place = places[tray.id] ?? { placeOf: tray.id, turned: false };
      const other = taken.get(place.placeOf);
      if (other !== undefined) {
        throw new Refusal(
          `rota, trays ${codeOf(rack, other)} and ${codeOf(rack, tray.id)}: both in the place of ` +
            `${codeOf(rack, place.placeOf)}; one tray a place is expected`,
        );
      }
      const there = trayOf(rack, place.placeOf).tray;
      if (
        Math.abs(there.widthMm - tray.widthMm) > SAME_SIZE_MM ||
        Math.abs(there.depthMm - tray.depthMm) > SAME_SIZE_MM
      ) {
        throw new Refusal(
          `rota, tray ${codeOf(rack, tray.id)} in the place of ${codeOf(rack, place.placeOf)}: ` +
            `${sizeOf(tray)} against ${sizeOf(there)}; trays of one size are expected`,
        );
      }
      taken.set(place.placeOf, tray.id);
      stands.set(tray.id, place);
    }
  }
  return stands;
}

/** Why trays cannot move as the rota says; null where they can. */
export function rotaMisfit(
  rack: Rack,
  rota: readonly RotaPeriod[],
  lengths: UnitSystem,
): string | null {
  try {
    for (const { places } of rota) standsOf(rack, places, lengths);
    return null;
  } catch (error) {
    return reasonOf(error);
  }
}

/** A pot's point when its tray stands in another's place. */
function pointIn(pot: Pot, tray: Tray, there: Tray, turned: boolean, zMm: number): PointMm {
  const x = pot.xMm - tray.xMm;
  const y = pot.yMm - tray.yMm;
  return {
    xMm: there.xMm + (turned ? there.widthMm - x : x),
    yMm: there.yMm + (turned ? there.depthMm - y : y),
    zMm,
  };
}

/** Height of a tray's canopy above its shelf's surface on a day of the trial, counted from 1. mm. */
export type CanopyOn = (trayId: string, day: number) => number | null;

/** At the pots of a tray in one place: PPFD, and the hours a day that it lasts. */
interface PlaceLight {
  ppfd: Float64Array;
  hours: Float64Array;
}

/** The light of each shelf, computed once. */
function shelfLights(
  rack: Rack,
  lightPlan: LightPlan,
  reflected: boolean,
  days: number,
): (shelf: Shelf) => ShelfLight {
  const lights = new Map<string, ShelfLight>();
  return (shelf) => {
    const known = lights.get(shelf.id);
    if (known) return known;
    const seen = shelfInRoom(shelf, rack);
    const light = shelfLight(seen, rack.lampKinds, {
      heightMm: canopyHeightMm(shelf, lightPlan.canopyAt),
      reflected,
      readings: lightPlan.readings,
      // The mean over days of a small steady loss is that of the middle day.
      worn: shelfAfter(seen, rack.lampKinds, lightPlan, days / 2),
    });
    lights.set(shelf.id, light);
    return light;
  };
}

interface Lit {
  rack: Rack;
  lightPlan: LightPlan;
  lightOf: (shelf: Shelf) => ShelfLight;
  canopyOn: CanopyOn;
}

/** The light at the pots of a tray in any place on any day, each computed once: a rota comes back. */
function lightInPlaces(
  { rack, lightPlan, lightOf, canopyOn }: Lit,
  tray: Tray,
  pots: readonly Pot[],
): (place: TrayPlace, day: number) => PlaceLight {
  const known = new Map<string, PlaceLight>();
  return (place, day) => {
    const { shelf: standing, tray: there } = trayOf(rack, place.placeOf);
    // The plants go with their tray.
    const zMm = canopyOn(tray.id, day) ?? trayCanopyMm(standing, tray, lightPlan.canopyAt);
    const key = `${place.placeOf} ${String(place.turned)} ${zMm}`;
    const before = known.get(key);
    if (before) return before;
    const points = pots.map((pot) => pointIn(pot, tray, there, place.turned, zMm));
    const ppfd = lightOf(standing).at(points);
    const hoursAt = hoursOver(standing, lightPlan);
    const hours = Float64Array.from(points, ({ xMm, yMm }) => hoursAt(xMm, yMm));
    const found = { ppfd, hours };
    known.set(key, found);
    return found;
  };
}

/**
 * Mean light of every pot over a trial of `days` days whose trays move by a rota. Days without a
 * period leave the trays as drawn. The canopy has the height of the light plan, or grows as
 * `canopyOn` tells; the floor that reflects stays where it is; lamps that
 * age are as worn as in the middle of the trial. Throws on overlapping periods,
 * clashing places, trays of unequal size and shelves whose light cannot be computed.
 */
export function rotatedLight(
  rack: Rack,
  lightPlan: LightPlan,
  rota: readonly RotaPeriod[],
  days: number,
  {
    reflected = true,
    lengths = 'metric',
    canopyOn = () => null,
  }: { reflected?: boolean; lengths?: UnitSystem; canopyOn?: CanopyOn } = {},
): RotatedLight {
  const lightOf = shelfLights(rack, lightPlan, reflected, days);
  const home = standsOf(rack, {}, lengths);
  const spells = spellsOf(rota, days).map(({ period, pieces }) => ({
    stands: period ? standsOf(rack, period.places, lengths) : home,
    pieces,
  }));
  const pots = new Map<string, RotatedPot>();
  const still: number[] = [];
  const rotated: number[] = [];
  for (const { shelf, tray } of traysOf(rack)) {
    const own = potsOfTray(shelf, tray);
    const at = lightInPlaces({ rack, lightPlan, lightOf, canopyOn }, tray, own);
    const asDrawn = { placeOf: tray.id, turned: false };
    const stood = spells.flatMap((spell) =>
      spell.pieces.map((piece) => ({
        days: piece.days,
        drawn: at(asDrawn, piece.middle),
        moved: at(spell.stands.get(tray.id) ?? asDrawn, piece.middle),
      })),
    );
    const mean = (value: (one: (typeof stood)[number]) => number) =>
      stood.reduce((total, one) => total + one.days * value(one), 0) / days;
    own.forEach((pot, i) => {
      const values = stood.map(({ moved }) => real(moved.ppfd, i));
      const ppfdUmol = mean(({ moved }) => real(moved.ppfd, i));
      pots.set(pot.id, {
        potId: pot.id,
        ppfdUmol,
        dliMol: mean(({ moved }) => dli(real(moved.ppfd, i), real(moved.hours, i))),
        lowestUmol: Math.min(...values),
        highestUmol: Math.max(...values),
      });
      if (pot.guard) return;
      still.push(mean(({ drawn }) => real(drawn.ppfd, i)));
      rotated.push(ppfdUmol);
    });
  }
  return {
    pots,
    still: still.length > 0 ? evenness(still) : null,
    rotated: rotated.length > 0 ? evenness(rotated) : null,
  };
}

function traysOf(rack: Rack): { shelf: Shelf; tray: Tray }[] {
  return rack.shelves.flatMap((shelf) => shelf.trays.map((tray) => ({ shelf, tray })));
}
