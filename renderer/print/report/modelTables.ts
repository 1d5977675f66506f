import {
  amongMeans,
  isCounts,
  isRatio,
  partialEtaSquared,
  covariateSlopesOf,
  type Findings,
} from '../../engine/findings';
import { shownIn, unitOf, type UnitSystem } from '../../words';
import {
  df,
  estimate,
  numberCell,
  p,
  intervalWords,
  shown,
  words,
  type FindingsTable,
} from './cells';

/** What the variation goes with: every term of the model, blocks and covariates among them. */
export function termsTable(findings: Findings): FindingsTable {
  const { result } = findings.primary;
  const tested = new Set(findings.design.tested.map((role) => role.column));
  const others = result.terms.filter((term) => !term.term.split(' × ').every((t) => tested.has(t)));
  const withSs = result.terms.some((term) => term.ss !== null);
  const withF = result.terms.some((term) => term.kind === 'F');
  return {
    name: 'analysis',
    caption: `What the variation of ${findings.response.name} goes with`,
    columns: [
      { head: 'Source' },
      { head: 'df', numeric: true },
      ...(withSs ? [{ head: 'Sum of squares', numeric: true }] : []),
      ...(withF ? [{ head: 'Error df', numeric: true }] : []),
      { head: withF ? 'F' : 'χ²', numeric: true },
      { head: 'p', numeric: true },
      ...(withF ? [{ head: 'Partial η²', numeric: true }] : []),
    ],
    rows: result.terms.map((term) => [
      words(term.term),
      df(term.df),
      ...(withSs ? [numberCell(term.ss, 5)] : []),
      ...(withF ? [df(term.dfError)] : []),
      numberCell(term.statistic, 4),
      p(term.p, findings.alpha),
      ...(withF ? [numberCell(partialEtaSquared(term), 2)] : []),
    ]),
    ...(others.length > 0
      ? {
          note: 'Blocks and covariates are there to be allowed for. They stay in the model whatever their p; it shows what allowing for them was worth.',
        }
      : {}),
  };
}

/** Slope of every covariate, with its interval; null without covariates. */
export function slopesTable(findings: Findings, lengths: UnitSystem): FindingsTable | null {
  const slopes = covariateSlopesOf(findings);
  if (slopes.length === 0) return null;
  const as = shown(findings);
  return {
    name: 'slopes',
    caption: `${as.many} for each unit more of a covariate${as.unit}`,
    columns: [
      { head: 'Covariate' },
      { head: 'For each' },
      { head: as.head, numeric: true },
      { head: intervalWords(findings), numeric: true },
      ...as.errors.slice(0, 1),
      { head: 'df', numeric: true },
      { head: 'p', numeric: true },
    ],
    rows: slopes.map((row) => {
      // Per inch is 25.4 times per millimetre.
      const by = row.isLength ? 1 / shownIn('length', lengths, 1) : 1;
      return [
        words(row.name),
        words(row.isLength ? unitOf('length', lengths) : row.unit),
        ...as.estimate(row.estimate * by, row.lower * by, row.upper * by),
        numberCell(row.se * by, 2),
        df(row.df),
        p(row.p, findings.alpha),
      ];
    }),
    ...(isRatio(findings.scale)
      ? {
          note: `Ratios for one unit more; ${isCounts(findings.scale) ? 'counts have a model of logarithms' : 'logarithms were analysed'}.`,
        }
      : {}),
  };
}

/** The variances of the model, with intervals; one that is not above zero is told in words. */
export function varianceTable(findings: Findings): FindingsTable | null {
  const { variance } = findings.primary.result;
  if (variance.length === 0) return null;
  const total = variance.reduce((sum, row) => sum + row.variance, 0);
  return {
    name: 'variances',
    caption: 'Where the unexplained variation lies',
    columns: [
      { head: 'Among' },
      { head: 'SD', numeric: true },
      { head: 'Variance', numeric: true },
      { head: intervalWords(findings), numeric: true },
      { head: 'df', numeric: true },
      ...(variance.length > 1 ? [{ head: 'Share', unit: '%', numeric: true }] : []),
    ],
    rows: variance.map(({ unit, variance: value, df: ownDf, lower, upper }) => [
      words(amongWords(findings, unit)),
      value >= 0 ? numberCell(Math.sqrt(value)) : numberCell(null),
      ...(lower === null || upper === null || upper > UNTOLD * value
        ? [numberCell(value), words(value > 0 ? untoldWords(ownDf) : 'none')]
        : estimate(value, lower, upper)),
      df(ownDf),
      ...(variance.length > 1
        ? [total > 0 ? numberCell((100 * value) / total, 2) : numberCell(null)]
        : []),
    ]),
    note: [
      ...(variance.some((row) => row.df !== null)
        ? ['Intervals of variances are by chi-square, on df after Satterthwaite.']
        : []),
      ...(variance.some((row) => row.df === null && row.variance > 0)
        ? ['How sure a variance is that has no df here, this model does not tell.']
        : []),
      ...variance
        .filter((row) => row.variance <= 0)
        .map(({ unit }) => notAboveZero(findings, unit)),
    ].join(' '),
  };
}

function amongWords({ averaged, primary }: Findings, unit: string): string {
  if (unit === 'spatial') return 'places, neighbouring pots alike';
  if (unit !== 'residual') return unit;
  if (averaged) return amongMeans(averaged);
  return primary.result.spatial ? 'pots of one place (nugget)' : 'pots treated alike';
}

/** What the fit warns of, less what the table of variances says of those that are not above zero. */
export function otherWarnings({ primary }: Findings): string[] {
  const { variance, warnings } = primary.result;
  const told = variance
    .filter((row) => row.variance <= 0)
    .map(({ unit }) => `The variance of ${unit} is estimated`);
  return warnings.filter((text) => !told.some((start) => text.startsWith(start)));
}

/** Why a variance above zero has no interval: the model gives it no df, or too few. */
function untoldWords(ownDf: number | null): string {
  return ownDf === null ? 'not told' : 'too few df to tell';
}

/** An upper limit so many times the estimate tells nothing. */
const UNTOLD = 1000;

function notAboveZero(findings: Findings, unit: string): string {
  // Of a surface or of neighbours there are no units.
  if (!findings.design.randomUnits.some((columns) => columns.join(' × ') === unit)) {
    return `The variance of ${amongWords(findings, unit)} is not above zero: the data show none of it, and no interval is given.`;
  }
  return (
    `The variance of ${unit} is not above zero: such units differ no more than chance among their ` +
    'pots makes them. That is common with few units, and no interval is given.'
  );
}
