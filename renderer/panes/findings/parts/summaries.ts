import { answersOf, mainComparison, type Findings } from '../../../engine/findings';
import { plural } from '../../../words';

/** What place did, as its card says. */
export function placeSummary(findings: Findings): string {
  return answersOf(findings).find(({ about }) => about === 'place')?.headline ?? '';
}

/** How many pairs of levels differ, of each factor. */
export function comparisonsSummary({ design, primary, alpha }: Findings): string {
  return design.tested
    .map((role) => {
      const rows = mainComparison(primary.result, role)?.rows ?? [];
      const clear = rows.filter(({ p }) => p < alpha).length;
      return `${role.factor.name}: ${clear} of ${plural(rows.length, 'pair')} clear`;
    })
    .join('; ');
}

export function analysisSummary({ primary }: Findings): string {
  const { terms, n } = primary.result;
  return terms.length === 0 ? `${n} values` : `F, df and p of ${plural(terms.length, 'term')}`;
}

/** How many pots stand out. */
export function checksSummary({ checks }: Findings): string {
  const n = checks.pots.filter(({ outlying, influential }) => outlying || influential).length;
  return n === 0 ? 'No pot stands out' : n === 1 ? '1 pot stands out' : `${n} pots stand out`;
}
