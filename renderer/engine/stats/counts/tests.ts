import { chiSquareUpper, fUpper } from '../distributions';
import type { TermColumns } from '../hypotheses';
import { selectColumns } from '../linear';
import type { TermTest } from '../model';
import type { CountsFit, CountsKind } from './fit';
import { polishOf } from './fit';
import { fitIrls } from './irls';
import type { CountsInput } from './irls';

/**
 * Likelihood-ratio test of a term: the deviance that its columns take away, after those that it
 * is adjusted for. θ is held at its estimate in the full model. Quasi-Poisson: the deviance a df
 * over the Pearson dispersion of the full model, an F.
 */
export function devianceTest(
  full: CountsFit,
  input: CountsInput,
  kind: CountsKind,
  { x, before, own }: TermColumns,
): TermTest | null {
  const fitOf = (columns: readonly number[]) =>
    fitIrls({ ...input, x: selectColumns(x, columns) }, full.family, polishOf(kind));
  const without = fitOf(before);
  const including = fitOf([...before, ...own]);
  const df = including.space.rank - without.space.rank;
  if (df === 0) return null;
  const drop = Math.max(without.deviance - including.deviance, 0);
  if (kind !== 'quasi-poisson') {
    const p = chiSquareUpper(drop, df);
    return { df, dfError: Infinity, statistic: drop, kind: 'chi-square', p };
  }
  const statistic = drop / df / full.scale;
  const dfError = full.residualDf;
  return { df, dfError, statistic, kind: 'F', p: fUpper(statistic, df, dfError) };
}
