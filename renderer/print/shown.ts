import type { Plan } from '../../shared-types/plan';
import { blindedSince } from '../document/queries/blinding';
import { placedPotsOf, potsOf, treatmentsOfPlan, type PotInTrial } from '../derive';
import { walkingOrder, type Pot } from '../engine/geometry';
import { shuffle, stream } from '../engine/trial/stream';
import type { PrintOptions } from './options';
import { Refusal } from '../words';

/** A treatment as the printed page shows it. */
export interface ShownTreatment {
  /** Its letter, or its code on blinded pages. */
  mark: string;
  /** Decides colour and pattern. */
  look: number;
  /** Names of its levels; on blinded pages nothing. */
  name: string;
}

export interface Shown {
  /** In the order of the key. */
  treatments: readonly ShownTreatment[];
  /** By the treatment's place in the plan. */
  byIndex: readonly ShownTreatment[];
}

// No vowels, so that no words come out, and nothing that reads as a digit on a wet page.
const CODE_LETTERS = 'BCDFGHJKMNPQRTVWX';

/**
 * The treatments as printed. Blinded: two letters each, with colour and pattern dealt anew, both
 * from the seed of the draw, so that a page printed later carries the same codes.
 */
export function shownTreatments(plan: Plan, blinded: boolean): Shown {
  const treatments = treatmentsOfPlan(plan);
  const seed = plan.layout?.seed;
  if (!blinded || seed === undefined) {
    const plain = treatments.map(({ letter, name }, look) => ({ mark: letter, look, name }));
    return { treatments: plain, byIndex: plain };
  }
  const codes = [...CODE_LETTERS].flatMap((a) => [...CODE_LETTERS].map((b) => a + b));
  if (treatments.length > codes.length) {
    throw new Refusal(
      `blinded pages: found ${treatments.length} treatments; at most ${codes.length} are expected`,
    );
  }
  shuffle(codes, stream(seed, 'codes of blinded pages'));
  const looks = treatments.map((_, i) => i);
  shuffle(looks, stream(seed, 'colours of blinded pages'));
  const byIndex = treatments.map((_, i) => ({
    mark: codes[i] ?? '',
    look: looks[i] ?? i,
    name: '',
  }));
  return { byIndex, treatments: [...byIndex].sort((a, b) => (a.mark < b.mark ? -1 : 1)) };
}

/** The treatments as the screen may show them: as codes while the trial is blinded. */
export const treatmentsOnScreen = (plan: Plan): Shown =>
  shownTreatments(plan, blindedSince(plan) !== null);

/** What stands in one hole of the layout, with its treatment as shown; null: not in the trial. */
export interface ShownPot {
  treatment: ShownTreatment | null;
  plant: string | null;
  /** Name of its block. */
  block: string | null;
}

export function shownPots(plan: Plan, shown: Shown): ReadonlyMap<string, ShownPot> {
  return new Map(
    [...placedPotsOf(plan)].map(([id, { index, plant, block }]: [string, PotInTrial]) => [
      id,
      { treatment: shown.byIndex[index] ?? null, plant, block },
    ]),
  );
}

/** The pots that are planted and measured, in walking order. */
export function trialPots(plan: Plan, options: Pick<PrintOptions, 'trayIds'>): Pot[] {
  const placed = placedPotsOf(plan);
  const pots = potsOf(plan).filter(
    (pot) =>
      (plan.layout ? placed.has(pot.id) : !pot.guard) &&
      (options.trayIds?.includes(pot.trayId) ?? true),
  );
  return walkingOrder(pots);
}
