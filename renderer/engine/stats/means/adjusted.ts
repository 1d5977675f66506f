import type { MeanRow } from '../../../../shared-types/fit';
import type { Design } from '../design';
import { crossedName } from '../design';
import { tQuantileUpper } from '../distributions';
import type { Qr } from '../linear';
import type { FittedModel } from '../model';
import { isEstimable } from '../linear';
import { gridMeans } from './grid';
import type { GridMean } from './grid';
import { Refusal } from '../../../words';

export interface MeansTable {
  of: string[];
  rows: MeanRow[];
}

/** The grid means that can be estimated; one warning naming those that cannot. */
export function estimableMeans(
  design: Design,
  qr: Qr,
  of: readonly string[],
): { means: GridMean[]; warnings: string[] } {
  const all = gridMeans(design, of);
  const means = all.filter((mean) => isEstimable(qr, mean.weights));
  const lost = all.filter((mean) => !means.includes(mean)).map((mean) => mean.label);
  if (lost.length === 0) return { means, warnings: [] };
  return {
    means,
    warnings: [
      `The adjusted mean of ${crossedName(of)} cannot be estimated for ${lost.join(', ')}: ` +
        'it averages over combinations that have no row with a response.',
    ],
  };
}

const FIGURES: ReadonlySet<string> = new Set([
  'mean',
  'se',
  'df',
  'lower',
  'upper',
  'backTransformed',
  'backTransformedLower',
  'backTransformedUpper',
]);

/**
 * Adjusted means with intervals. `undo` leads from the scale of the analysis back to that of the
 * measurement; its values stand beside the mean as `backTransformed` with its limits. A mean
 * whose error nothing shows (a stratum without error df) is left out, with a warning.
 */
export function adjustedMeans(
  model: FittedModel,
  means: readonly GridMean[],
  confidence: number,
  undo: ((value: number) => number) | null,
): { rows: MeanRow[]; warnings: string[] } {
  const lost: string[] = [];
  for (const name of means[0]?.levels.keys() ?? []) {
    if (!FIGURES.has(name)) continue;
    throw new Refusal(
      `means: a factor is named "${name}", as one of the figures of a mean is; expected a name ` +
        `other than ${[...FIGURES].join(', ')}`,
    );
  }
  const rows = means.flatMap(({ levels, label, weights }) => {
    const { estimate, se, df } = (model.meanOf ?? model.estimate)(weights);
    if (!Number.isFinite(se)) {
      lost.push(label);
      return [];
    }
    const reach = se * tQuantileUpper((1 - confidence) / 2, df);
    const row: MeanRow = {
      ...Object.fromEntries(levels),
      mean: estimate,
      se,
      df: Number.isFinite(df) ? df : null,
      lower: estimate - reach,
      upper: estimate + reach,
    };
    if (undo) {
      row['backTransformed'] = finite(undo(estimate));
      row['backTransformedLower'] = finite(undo(estimate - reach));
      row['backTransformedUpper'] = finite(undo(estimate + reach));
    }
    return [row];
  });
  return {
    rows,
    warnings: lost.length > 0 ? [noErrorWarning(`The means ${lost.join(', ')}`, model)] : [],
  };
}

export function noErrorWarning(what: string, model: FittedModel): string {
  const why =
    model.whyNoError ??
    'they rest on units that the terms compare wholly, so that nothing shows how such units vary ' +
      'by themselves.';
  return `${what} have no standard error and are left out: ${why}`;
}

/** null where a limit is beyond all numbers, as that of a mean of zero counts is. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
