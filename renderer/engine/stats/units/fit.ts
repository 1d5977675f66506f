import { designMatrix } from '../design';
import type { Design, UnitCodes } from '../design';
import { fUpper } from '../distributions';
import { termColumnSets } from '../hypotheses';
import type { TestOrder } from '../hypotheses';
import { mean } from '../linear';
import { adjustedSpace } from './space';
import type { AdjustedSpace } from './space';
import { unitsModel } from './model';
import type { UnitsModel } from './model';
import type { MeanSquare, Spaces } from './spaces';
import { errorTermOf, ownErrorTerm } from './structure';

export interface UnitsTerm {
  readonly term: string;
  readonly df: number;
  readonly ss: number;
  readonly error: MeanSquare;
  /** null where the error has no df, or is zero. */
  readonly statistic: number | null;
  readonly p: number | null;
}

export interface UnitsFit extends UnitsModel {
  readonly terms: readonly UnitsTerm[];
  /** Of every kind of unit, coarsest first, then the residual. */
  readonly meanSquares: readonly MeanSquare[];
  /** By the mean squares' expectations; may be below zero. */
  readonly variance: readonly { unit: string; variance: number }[];
  readonly residuals: Float64Array;
}

/**
 * Judges every term by the variation of the units it falls on, the units taken as fixed where the
 * term varies within them: its sum of squares is that of least squares with the indicators of those
 * units; its error the mean square between the coarsest unit within which it is constant, adjusted
 * for the same, on its own df. With complete data and no covariate that differs between units these
 * are the classical error strata; unlike variances estimated by likelihood, mean squares between
 * units may fall below the residual, and the test keeps its level there.
 */
export function fitUnits(design: Design, units: readonly UnitCodes[], order: TestOrder): UnitsFit {
  const centre = mean(design.y);
  const spaces = spacesOf(design, units, centre);
  const errors = design.terms.map((term) => errorTermOf(design, term, units));
  const sets = termColumnSets(design, order);
  const terms = design.terms.map((term, i): UnitsTerm => {
    const { unit, varies } = errors[i] ?? { unit: null, varies: units };
    const set = sets[i];
    const found = set && spaces.of(varies).added(set.x, set.before, set.own);
    const { df, ss } = found ?? { df: 0, ss: 0 };
    const error = spaces.meanSquare({ unit, varies });
    const statistic = df > 0 && error.ms > 0 ? ss / df / error.ms : null;
    const p = statistic === null ? null : fUpper(statistic, df, error.df);
    return { term: term.name, df, ss, error, statistic, p };
  });
  const ordered = [...units].sort((a, b) => a.levels - b.levels);
  return {
    ...unitsModel(design, units, errors, spaces, centre),
    terms,
    meanSquares: [
      ...ordered.map((unit) => spaces.meanSquare(ownErrorTerm(unit, units))),
      spaces.meanSquare({ unit: null, varies: units }),
    ],
    variance: components(ordered, spaces),
    residuals: spaces.of(units).residuals(),
  };
}

function spacesOf(design: Design, all: readonly UnitCodes[], centre: number): Spaces {
  const x = designMatrix(design, design.x.rows, 'sum');
  const y = design.y.map((value) => value - centre);
  const known = new Map<number, AdjustedSpace>();
  const of = (units: readonly UnitCodes[]): AdjustedSpace => {
    const key = units.reduce((sum, unit) => sum + 2 ** all.indexOf(unit), 0);
    const space = known.get(key) ?? adjustedSpace(x, y, units);
    known.set(key, space);
    return space;
  };
  return {
    of,
    meanSquare({ unit, varies }) {
      const without = of(varies);
      if (unit === null) {
        const { df, rss } = without;
        return { unit: 'residual', df, ss: rss, ms: df > 0 ? rss / df : NaN };
      }
      const within = of([...varies, unit]);
      const df = without.df - within.df;
      const ss = df > 0 ? Math.max(without.rss - within.rss, 0) : 0;
      return { unit: unit.unit, df, ss, ms: df > 0 ? ss / df : NaN };
    },
  };
}

/**
 * Variances from the expectations of the mean squares, finest unit first (Henderson 1953,
 * Biometrics 9, 226–252, method 3): E(SS) = df σ² + Σ σ_V² × what the unit adds to the explained
 * part of V's indicators. Units without df have none.
 */
function components(
  ordered: readonly UnitCodes[],
  spaces: Spaces,
): { unit: string; variance: number }[] {
  const residual = spaces.meanSquare({ unit: null, varies: ordered }).ms;
  const found = new Map<UnitCodes, number>();
  for (const unit of [...ordered].reverse()) {
    const { varies } = ownErrorTerm(unit, ordered);
    const { df, ss } = spaces.meanSquare({ unit, varies });
    if (df === 0) continue;
    const without = spaces.of(varies);
    const within = spaces.of([...varies, unit]);
    let rest = ss - df * residual;
    for (const [finer, variance] of found) {
      if (varies.includes(finer)) continue;
      rest -= variance * (without.leftOf(finer) - within.leftOf(finer));
    }
    found.set(unit, rest / without.leftOf(unit));
  }
  return [
    ...ordered.flatMap((unit) => {
      const variance = found.get(unit);
      return variance === undefined ? [] : [{ unit: unit.unit, variance }];
    }),
    { unit: 'residual', variance: residual },
  ];
}
