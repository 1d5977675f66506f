import type { ComparisonRow, MeanRow } from '../../../shared-types/fit';
import {
  inPlanOrder,
  isRatio,
  mainComparison,
  meanShown,
  type FactorRole,
  type Findings,
} from '../../engine/findings';
import { capital, chosenShare, figures, list, type UnitSystem } from '../../words';
import { estimate, numberCell, intervalWords, words, type FindingsTable } from './cells';
import { comparisonTable, contrastTable, effectSizeTable } from './comparisonTables';
import { slopesTable, termsTable, varianceTable } from './modelTables';
import { plantsTable } from './plantsTable';
import { effectsTable, positionTable, sensitivityTable } from './positionTables';

/** Adjusted means of one factor or of combinations. */
export function meansTable(findings: Findings, of: readonly string[]): FindingsTable | null {
  const group = findings.primary.result.means.find(
    (m) => m.of.length === of.length && m.of.every((name) => of.includes(name)),
  );
  const single = of.length === 1 ? of[0] : undefined;
  if (!group || group.rows.length === 0) return null;
  const pairs = findings.primary.result.comparisons.find(
    (c) => c.method === 'tukey' && c.by.length === 0 && c.of.length === 1 && c.of[0] === single,
  );
  const letters = pairs?.letters;
  const note = [
    pairs ? errorsOfPairs(findings, pairs.rows) : '',
    letters ? lettersWords(pairs?.randomised ? 'randomisation' : 'Tukey–Kramer') : '',
  ];
  return {
    name: `means ${of.join(' by ')}`,
    caption: `${meansAre(findings)} by ${list(of)}, ${findings.response.unit}${taken(findings)}`,
    columns: [
      ...of.map((head) => ({ head })),
      { head: findings.scale === 'log' ? 'Geometric mean' : 'Mean', numeric: true },
      ...(findings.scale === null ? [{ head: 'SE', numeric: true }] : []),
      { head: intervalWords(findings), numeric: true },
      ...(letters ? [{ head: 'Groups' }] : []),
    ],
    rows: inPlanOrder(group.rows, of, findings.roles).map((row: MeanRow) => {
      const { mean, lower, upper } = meanShown(row);
      const [at, interval] = estimate(mean, lower, upper);
      return [
        ...of.map((name) => words(String(row[name]))),
        at,
        // A standard error belongs to the scale that was analysed, which is not that of the mean.
        ...(findings.scale === null ? [numberCell(row.se, 2)] : []),
        interval,
        ...(letters && single ? [words(letters[String(row[single])] ?? '')] : []),
      ];
    }),
    note: note.filter(Boolean).join(' '),
  };
}

const lettersWords = (test: string): string =>
  `Same letter: no clear difference (${test}). That does not make the levels equal; the ` +
  'intervals of their differences tell how far apart they may be.';

function meansAre({ scale }: Findings): string {
  return scale === 'log' ? 'Adjusted geometric means' : 'Adjusted means';
}

function taken({ scale }: Findings): string {
  if (scale === null) return '';
  return `, taken back from ${isRatio(scale) ? 'logarithms' : 'square roots'}`;
}

/** Standard error and least significant difference of the pairs, on the scale of the analysis. */
function errorsOfPairs(findings: Findings, rows: readonly ComparisonRow[]): string {
  const known = rows.filter((row) => Number.isFinite(row.se) && Number.isFinite(row.lsd));
  if (known.length === 0) return '';
  const { scale, response } = findings;
  const unit = scale === null && response.unit ? ` ${response.unit}` : '';
  const of = (values: number[]) => {
    const [least, most] = [Math.min(...values), Math.max(...values)];
    const [a, b] = [figures(least, 2), figures(most, 2)];
    return a === b ? `${a}${unit}` : `${a} to ${b}${unit}`;
  };
  const on = scale === null ? '' : ` of ${isRatio(scale) ? 'logarithms' : 'square roots'}`;
  return (
    `Standard error of a difference${on} ${of(known.map((row) => row.se))}; least significant ` +
    `difference at ${chosenShare(findings.alpha)} ${of(known.map((row) => row.lsd))}, for one pair planned beforehand.`
  );
}

/** Pots that stand out, worst first; the first twelve by Cook's distance where none does. */
export function potsTable(findings: Findings): FindingsTable {
  const { pots } = findings.checks;
  const named = pots.filter((pot) => pot.outlying || pot.influential);
  const shown = (named.length > 0 ? named : pots.filter((pot) => pot.cook !== null))
    .sort((a, b) => (b.cook ?? 0) - (a.cook ?? 0))
    .slice(0, named.length > 0 ? named.length : 6);
  const [one, many] = findings.averaged ? ['mean', 'means'] : ['pot', 'pots'];
  return {
    name: 'pots that stand out',
    caption:
      named.length > 0
        ? `${capital(many)} that lie far out or would move the answers alone`
        : `No ${one} stands out; those that weigh most`,
    columns: [
      { head: capital(one) },
      { head: 'Value', unit: findings.response.unit, numeric: true },
      { head: 'Expected', unit: findings.response.unit, numeric: true },
      { head: 'Residual', unit: 'sd', numeric: true },
      { head: 'Studentised', numeric: true },
      { head: 'Cook’s distance', numeric: true },
      ...(named.length > 0 ? [{ head: 'Stands out as' }] : []),
    ],
    rows: shown.map((pot) => [
      { ...words(pot.code), potId: pot.potId },
      numberCell(pot.value, 4),
      numberCell(pot.fitted, 4),
      numberCell(pot.standardised),
      numberCell(pot.studentised),
      numberCell(pot.cook, 2),
      ...(named.length > 0
        ? [
            words(
              [pot.outlying ? 'outlying' : '', pot.influential ? 'influential' : '']
                .filter(Boolean)
                .join(', '),
            ),
          ]
        : []),
    ]),
  };
}

/** Every table of the findings, in the order of the report. */
export function findingsTables(findings: Findings, lengths: UnitSystem): FindingsTable[] {
  const { tested } = findings.design;
  const { result } = findings.primary;
  const found: (FindingsTable | null)[] = [
    positionTable(findings),
    effectsTable(findings),
    sensitivityTable(findings),
    termsTable(findings),
    slopesTable(findings, lengths),
    varianceTable(findings),
    ...result.means
      .filter((m) => m.of.every((name) => tested.some((role) => role.column === name)))
      .map((m) => meansTable(findings, m.of)),
    contrastTable(findings),
    ...result.comparisons
      .filter((c) => c.of.every((name) => tested.some((role) => role.column === name)))
      .flatMap((c) => [comparisonTable(findings, c), effectSizeTable(findings, c)]),
    potsTable(findings),
    plantsTable(findings),
  ];
  return found.filter((table) => table !== null && table.rows.length > 0) as FindingsTable[];
}

/** The comparisons of a factor that the report prints: the main ones, and their sizes. */
export function comparisonsOf(findings: Findings, role: FactorRole): FindingsTable[] {
  const main = mainComparison(findings.primary.result, role);
  if (!main) return [];
  const sizes = effectSizeTable(findings, main);
  return [comparisonTable(findings, main), ...(sizes ? [sizes] : [])];
}
