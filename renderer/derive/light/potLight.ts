import type { LampKind, Rack, Shelf } from '../../../shared-types/rack';
import type { Plan } from '../../../shared-types/plan';
import {
  mergedPotLight,
  namedPotLight,
  sameFiguresKey,
  shelfFigures,
  shelfPotLight,
  shelvesInRoom,
  type GroupScale,
  type LightBasis,
  type PotLight,
  type ShelfFigures,
} from '../../engine/light';
import type { Locale } from '../../../shared-types/window/locale';
import { spokenLocale, unlessRefused } from '../../words';
import { memo } from '../memo';
import { planAsGrown } from '../treated';
import { burntDaysOf } from './burntDays';

/**
 * What comes straight from the lamps, each group by what readings made of it in a settled plan: a
 * lamp that is dragged gives what it gave before.
 */
export interface DirectLight {
  settled: Plan;
}

/** What is counted: all the light, or the direct light alone (quick, for a drag). */
export type LightCounted = 'reflected' | DirectLight;

/** Direct light with the scales of a settled plan; one and the same for one plan. */
export const directLight = memo((settled: Plan): DirectLight => ({ settled }));

const NO_SCALES: readonly GroupScale[] = [];

/** The factors that stand in for a shelf's readings; null where its readings are asked. */
export function scalesFor(counted: LightCounted, shelfId: string): readonly GroupScale[] | null {
  return counted === 'reflected' ? null : scalesOf(counted.settled, shelfId);
}

/** What its readings make of a shelf's lamp groups; none where no reading holds. */
export function scalesOf(plan: Plan, shelfId: string): readonly GroupScale[] {
  return potLightOf(plan).calibrations.get(shelfId)?.scales ?? NO_SCALES;
}

// A price, a target or a tray move changes no light: figures are kept by what they rest on alone.
const basisMemo = memo(
  (
    canopyAt: LightBasis['canopyAt'],
    photoperiodHours: number,
    readings: LightBasis['readings'],
    burntDays: number,
  ): LightBasis => ({ canopyAt, photoperiodHours, readings, burntDays }),
  6,
);

/** What the light of a shelf was worked out from, here or by long work elsewhere. */
interface Figures {
  lampKinds: readonly LampKind[];
  light: LightBasis;
  locale: Locale;
  figures: ShelfFigures;
}

const known = new WeakMap<Shelf, readonly Figures[]>();
/** As planted, midway and at harvest, before and after an edit. */
const MOST_KNOWN = 4;

function knownOf(shelf: Shelf, lampKinds: readonly LampKind[], light: LightBasis) {
  return known
    .get(shelf)
    ?.find(
      (one) => one.lampKinds === lampKinds && one.light === light && one.locale === spokenLocale(),
    );
}

function keepFigures(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  light: LightBasis,
  figures: ShelfFigures,
): ShelfFigures {
  const one = { lampKinds, light, locale: spokenLocale(), figures };
  known.set(shelf, [one, ...(known.get(shelf) ?? [])].slice(0, MOST_KNOWN));
  return figures;
}

const figuresOf = (shelf: Shelf, lampKinds: readonly LampKind[], light: LightBasis) =>
  knownOf(shelf, lampKinds, light)?.figures ??
  keepFigures(shelf, lampKinds, light, shelfFigures(shelf, lampKinds, light));

// Shelf by shelf, so that dragging one lamp leaves the other shelves as they are.
const shelfMemo = memo(
  (
    shelf: Shelf,
    lampKinds: readonly LampKind[],
    light: LightBasis,
    scales: readonly GroupScale[] | null,
  ): PotLight =>
    scales
      ? shelfPotLight(shelf, lampKinds, light, { reflected: false, scales })
      : namedPotLight(shelf, light, figuresOf(shelf, lampKinds, light)),
  // Of 200 shelves as drawn and as treated: with fewer, one edit would compute all of them anew.
  480,
);

const potLightMemo = memo(
  (rack: Rack, light: LightBasis, counted: LightCounted): PotLight =>
    mergedPotLight(
      shelvesInRoom(rack).map((shelf) =>
        shelfMemo(shelf, rack.lampKinds, light, scalesFor(counted, shelf.id)),
      ),
    ),
  6,
);

/** What the plan's light rests on besides the rack; one and the same for one such light. */
export function lightBasisOf(plan: Plan): LightBasis {
  const { canopyAt, photoperiodHours, readings } = plan.light;
  return basisMemo(canopyAt, photoperiodHours, readings, burntDaysOf(plan, canopyAt));
}

/** Light at every pot, and summaries by tray and shelf. */
export function potLightOf(plan: Plan, counted: LightCounted = 'reflected'): PotLight {
  return potLightMemo(plan.rack, lightBasisOf(plan), counted);
}

/** Shelves of a plan whose light is asked of long work. */
export interface ShelvesAsked {
  rack: Rack;
  light: LightBasis;
  shelfIds: readonly string[];
}

/** Long work: the light at the pots of many shelves, by shelf id. */
export function manyFigures(
  { rack, light, shelfIds }: ShelvesAsked,
  tell: (done: number, total: number) => void,
): Map<string, ShelfFigures> {
  const found = new Map<string, ShelfFigures>();
  const asked = new Set(shelfIds);
  for (const shelf of shelvesInRoom(rack)) {
    if (!asked.has(shelf.id)) continue;
    found.set(shelf.id, shelfFigures(shelf, rack.lampKinds, light));
    tell(found.size, shelfIds.length);
  }
  return found;
}

/** Light that is yet to be worked out, as drawn or as treated. */
export interface LightToDo {
  asked: ShelvesAsked;
  /** Remembers what was found, so that `potLightOf` gives it at once. */
  keep: (found: ReadonlyMap<string, ShelfFigures>) => void;
}

/**
 * What of a plan's light, as drawn and as the plants get it unless a rack is named, is not known yet.
 * Of shelves that have the same light one is asked for.
 */
export function lightToDo(
  plan: Plan,
  racks: readonly Rack[] = [plan.rack, planAsGrown(plan).rack],
): LightToDo[] {
  const light = lightBasisOf(plan);
  return [...new Set(racks)].flatMap((rack): LightToDo[] => {
    const first = new Map<string, string>();
    const open = shelvesInRoom(rack).flatMap((shelf) => {
      if (knownOf(shelf, rack.lampKinds, light)) return [];
      const key = unlessRefused(() => sameFiguresKey(shelf, light)) ?? shelf.id;
      const from = first.get(key) ?? shelf.id;
      first.set(key, from);
      return [{ shelf, from }];
    });
    if (open.length === 0) return [];
    const keep: LightToDo['keep'] = (found) => {
      for (const { shelf, from } of open) {
        const figures = found.get(from);
        if (figures) keepFigures(shelf, rack.lampKinds, light, figures);
      }
    };
    return [{ asked: { rack, light, shelfIds: [...first.values()] }, keep }];
  });
}

const ppfdMemo = memo(
  (light: PotLight): ReadonlyMap<string, number> =>
    new Map([...light.pots].map(([id, value]) => [id, value.ppfdUmol])),
);

export function ppfdByPotOf(plan: Plan): ReadonlyMap<string, number> {
  return ppfdMemo(potLightOf(plan));
}
