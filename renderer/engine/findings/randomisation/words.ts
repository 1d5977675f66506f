import type { Findings } from '../findings';
import type { RandomisationFound } from './count';
import { termOf } from '../statements/terms';
import { figures, list, said, saidP } from '../../../words';

/** p of the model that answers for what was tested; null where it has none. */
export function modelPOf({ primary }: Findings, { term }: RandomisationFound): number | null {
  return termOf(primary.result, term.split(' × '))?.p ?? null;
}

/** The result of a randomisation test in words, with its figures, beside the p of the model that answers. */
export function randomisationSentence(
  found: RandomisationFound,
  alpha: number,
  modelP: number | null = null,
): string {
  const share = found.exact
    ? `${found.asExtreme} of all ${found.runs} possible layouts`
    : `${found.asExtreme} of ${found.runs} shuffled layouts`;
  const { p } = found;
  const verdict =
    p < alpha
      ? `which the draw alone would seldom give (${saidP(p, alpha)})`
      : `so that the draw alone may have given it (${saidP(p, alpha)}); that is no proof that ${found.term} does nothing`;
  return (
    `${found.method} ${share} give ${found.term} an F as large as the ${said(found.observed)} of the real one, ${verdict}.` +
    `${approximateWords(found)}${fewestWords(found, alpha)}${besideModel(found, alpha, modelP)}`
  );
}

/** Why the test is approximate, where it is. */
function approximateWords({ approximate, moved, term }: RandomisationFound): string {
  const together = moved.length > 1 ? ` The labels of ${list(moved)} moved together.` : '';
  switch (approximate) {
    case null:
      return together;
    case 'together':
      return `${together} The test of ${term} is approximate: no layout of this scheme keeps the rest as it was.`;
    case 'interaction':
      return `${together} The test of an interaction is approximate: main effects move with its labels.`;
    case 'taken-out':
      return `${together} The test is approximate: the estimated effects of the other terms were taken out first.`;
    case 'shuffled':
      return `${together} The test is approximate: labels were shuffled, for the scheme itself could not be drawn.`;
    default:
      return approximate satisfies never;
  }
}

/** The least p that the design's draw can give, where every layout was listed. */
function fewestWords({ exact, leastP, runs }: RandomisationFound, alpha: number): string {
  if (!exact) return '';
  const fewest = ` ${Math.round(leastP * runs)} of ${runs} possible layouts is the fewest that this design can give (${saidP(leastP, alpha)})`;
  return leastP < alpha
    ? `${fewest}.`
    : `${fewest}, so that this test can never show a difference.`;
}

function besideModel(found: RandomisationFound, alpha: number, modelP: number | null): string {
  if (modelP === null) return '';
  const model = saidP(modelP, alpha);
  const shown = found.p < alpha;
  if (found.answers) {
    if (found.p === modelP) return ' The answer rests on this very test.';
    const same = ` The answer rests on the same test over fewer layouts (${model})`;
    return modelP < alpha === shown
      ? `${same}.`
      : `${same}, and the two disagree: p is so near ${figures(alpha, 2)} that the number of layouts decides.`;
  }
  if (modelP < alpha === shown) {
    return ` The planned analysis agrees: a difference is ${shown ? '' : 'not '}shown (${model}).`;
  }
  const differ = ` The planned analysis disagrees: a difference is ${shown ? 'not ' : ''}shown (${model}).`;
  if (!shown && found.leastP >= alpha)
    return `${differ} Too few layouts are possible to bear it out.`;
  return `${differ} It rests on normal errors and on the planned correction for place, this test on the draw alone.`;
}
