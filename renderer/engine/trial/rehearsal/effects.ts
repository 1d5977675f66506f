import type { Factor } from '../../../../shared-types/trial/trial';
import type { TrueEffects } from './harvest';
import { Refusal } from '../../../words';

/**
 * The true effects of a stated difference: every factor between its first and last level, the
 * others midway, and every named interaction as a difference between differences. The same
 * reading as that of the power figures.
 */
export function differencesBetweenEnds(
  factors: readonly Factor[],
  differenceOf: (factor: Factor) => number,
  interactions: TrueEffects['interactions'] = [],
): TrueEffects {
  const levels = Object.fromEntries(
    factors.map((factor) => {
      const difference = differenceOf(factor);
      const last = factor.levels.length - 1;
      return [
        factor.id,
        Object.fromEntries(
          factor.levels.map((level, i) => [
            level.id,
            last === 0 ? 0 : i === 0 ? -difference / 2 : i === last ? difference / 2 : 0,
          ]),
        ),
      ];
    }),
  );
  return { levels, interactions };
}

/** Throws, naming what is unknown or impossible, where effects do not fit the factors. */
export function checkEffects(factors: readonly Factor[], effects: TrueEffects): void {
  const factorOf = (id: string): Factor => {
    const factor = factors.find((one) => one.id === id);
    if (factor) return factor;
    const known = factors.map((one) => one.id).join(', ');
    throw new Refusal(`rehearsal effect: factor ${id} was found; one of ${known} is expected`);
  };
  for (const [factorId, byLevel] of Object.entries(effects.levels)) {
    const factor = factorOf(factorId);
    for (const [levelId, shift] of Object.entries(byLevel)) {
      if (!factor.levels.some((level) => level.id === levelId)) {
        const known = factor.levels.map((level) => level.id).join(', ');
        throw new Refusal(
          `rehearsal effect of ${factor.name}: level ${levelId} was found; one of ${known} is expected`,
        );
      }
      if (!Number.isFinite(shift)) {
        throw new Refusal(
          `rehearsal effect of ${factor.name}, level ${levelId}: ${shift} was found; a number is expected`,
        );
      }
    }
  }
  for (const { factorIds, difference } of effects.interactions) {
    const names = factorIds.map((id) => factorOf(id).name).join(' × ');
    if (factorIds.length < 2 || new Set(factorIds).size < factorIds.length) {
      throw new Refusal(
        `rehearsal effect of ${names}: ${factorIds.length} factors were found; two or more different ones are expected`,
      );
    }
    if (!Number.isFinite(difference)) {
      throw new Refusal(
        `rehearsal effect of ${names}: ${difference} was found; a number is expected`,
      );
    }
  }
}
