import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { change, factorIn, levelIn } from '../../../edit';
import { nameOf } from '../../../queries/names';
import { refTo } from '../../../queries/refs';
import type { Contrast } from '../../../../../shared-types/trial/trial';
import { figure } from '../../../../words';

/** The comparisons planned for one factor; replaces those it had. */
export const setContrasts: Command<{ factorId: string; contrasts: readonly Contrast[] }> = {
  name: 'setContrasts',
  label: ({ factorId }, plan) => `Plan comparisons of ${nameOf(plan, refTo('factor', factorId))}`,
  run: (plan, { factorId, contrasts }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      const names = contrasts.map((contrast) => contrast.name.trim().toLowerCase());
      const twice = names.find((name, i) => names.indexOf(name) !== i);
      if (twice !== undefined) {
        throw new Refusal(`${factor.name} has a comparison called ${twice} already.`);
      }
      for (const { name, weights } of contrasts) {
        for (const { levelId } of weights) levelIn(factor, levelId);
        const size = weights.reduce((sum, { weight }) => sum + Math.abs(weight), 0);
        const sum = weights.reduce((total, { weight }) => total + weight, 0);
        if (!(size > 0) || Math.abs(sum) > 1e-9 * size) {
          throw new Refusal(
            `The weights of ${name} add up to ${figure(sum, 6)}; they must add up to 0 and not all be 0.`,
          );
        }
      }
      if (contrasts.length === 0) delete factor.contrasts;
      else {
        factor.contrasts = contrasts.map(({ name, weights, preSpecified }) => ({
          name: name.trim(),
          weights: weights.map((weight) => ({ ...weight })),
          ...(preSpecified ? { preSpecified } : {}),
        }));
      }
    }),
};
