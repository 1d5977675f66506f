import type { Factor, Level, Trial } from '../../../shared-types/trial/trial';
import { letterOf } from '../geometry';
import { Refusal } from '../../words';

/** One combination of levels, of all factors or of those on one unit. */
export interface Treatment {
  /** Level ids in the order of the factors, joined by `+`; stays when names change. */
  key: string;
  /** A, B, C… without I and O, as printed on labels. */
  letter: string;
  /** Level names joined by ` · `. */
  name: string;
  /** Level id by factor id. */
  levels: Record<string, string>;
  /** How often it is drawn where another is drawn once: the product of its levels' times. */
  times: number;
}

/** How often the draw takes a level where another is taken once; nobody draws a given one. */
export const timesOf = (factor: Pick<Factor, 'kind'>, level: Level): number =>
  factor.kind === 'randomised' ? (level.times ?? 1) : 1;

/** The treatments of one full set as cards: each as often as its times say. */
export function fullSetOf(combinations: readonly Treatment[]): Int32Array {
  return Int32Array.from(
    combinations.flatMap(({ times }, index) => Array.from({ length: times }, () => index)),
  );
}

const MOST_FACTORS = 12;
const MOST_TREATMENTS = 20_000;

/** Why a trial is too large to be laid out at all, and what would do; null where it is not. */
export function overload(factors: readonly Factor[]): { text: string; remedy: string } | null {
  if (factors.length > MOST_FACTORS) {
    return {
      text: `The trial has ${factors.length} factors; at most ${MOST_FACTORS} can be crossed.`,
      remedy: 'Use fewer factors, or treat some that go together as one.',
    };
  }
  const treatments = factors.reduce(
    (product, factor) =>
      product * factor.levels.reduce((sum, level) => sum + timesOf(factor, level), 0),
    1,
  );
  if (treatments <= MOST_TREATMENTS) return null;
  return {
    text: `Every combination of the levels makes ${treatments} treatments; at most ${MOST_TREATMENTS} can be handled.`,
    remedy: 'Use fewer levels or fewer factors.',
  };
}

/**
 * Every combination of the factors' levels, the last factor running fastest; [] without factors.
 * Throws where they are too many (see `overload`).
 */
export function combinationsOf(factors: readonly Factor[]): Treatment[] {
  if (factors.length === 0) return [];
  const tooMany = overload(factors);
  if (tooMany) throw new Refusal(`trial: ${tooMany.text} ${tooMany.remedy}`);
  let rows: { ids: string[]; names: string[]; times: number }[] = [
    { ids: [], names: [], times: 1 },
  ];
  for (const factor of factors) {
    rows = rows.flatMap((row) =>
      factor.levels.map((level) => ({
        ids: [...row.ids, level.id],
        names: [...row.names, level.name],
        times: row.times * timesOf(factor, level),
      })),
    );
  }
  return rows.map((row, index) => ({
    key: row.ids.join('+'),
    letter: letterOf(index + 1),
    name: row.names.join(' · '),
    levels: Object.fromEntries(factors.map((factor, f) => [factor.id, row.ids[f] ?? ''])),
    times: row.times,
  }));
}

/**
 * The trial's treatments: every combination of the levels of all its factors; [] where they are too
 * many to be listed, which a notice says.
 */
export function treatmentsOf(trial: Pick<Trial, 'factors'>): Treatment[] {
  return overload(trial.factors) ? [] : combinationsOf(trial.factors);
}

/** The key under which a pot with these levels is found among `treatmentsOf`. */
export function treatmentKey(
  trial: Pick<Trial, 'factors'>,
  levels: Readonly<Record<string, string>>,
): string {
  return trial.factors.map((factor) => levels[factor.id] ?? '').join('+');
}
