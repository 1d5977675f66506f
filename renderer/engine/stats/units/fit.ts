import { sumMatrix } from '../design';
import type { Design, UnitCodes } from '../design';
import { fUpper } from '../distributions';
import { termColumnSets } from '../hypotheses';
import type { TestOrder } from '../hypotheses';
import { mean } from '../linear';
import { unitSpace } from './space';
import type { AdjustedSpace, UnitSpace } from './space';
import { unitsModel } from './model';
import type { UnitsModel } from './model';
import type { MeanSquare, Spaces } from './spaces';
import { errorTermOf, ownErrorTerm } from './structure';
import type { ErrorTerm } from './structure';

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
  readonly variance: readonly { unit: string; variance: number; df: number }[];
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
  const { errors, at } = unitTests(design, units, order);
  const { spaces, test, centre } = at(design.y);
  const ordered = [...units].sort((a, b) => a.levels - b.levels);
  return {
    ...unitsModel(design, units, errors, spaces, centre),
    terms: design.terms.map((_, i) => test(i)),
    meanSquares: [
      ...ordered.map((unit) => spaces.meanSquare(ownErrorTerm(unit, units))),
      spaces.meanSquare({ unit: null, varies: units }),
    ],
    variance: components(ordered, spaces),
    residuals: spaces.of(units).residuals(),
  };
}

/** The tests of one layout, whatever its response. */
export interface UnitTests {
  /** By term, what it is judged by. */
  readonly errors: readonly ErrorTerm[];
  at(response: Float64Array): {
    readonly spaces: Spaces;
    readonly centre: number;
    test(term: number): UnitsTerm;
  };
}

/** What `fitUnits` tests, each term only when asked for. */
export function unitTests(
  design: Design,
  units: readonly UnitCodes[],
  order: TestOrder,
): UnitTests {
  const errors = design.terms.map((term) => errorTermOf(design, term, units));
  const sets = termColumnSets(design, order);
  const layout = spacesOf(design, units);
  return {
    errors,
    at(response) {
      const centre = mean(response);
      const spaces = layout(response.map((value) => value - centre));
      const test = (i: number): UnitsTerm => {
        const { unit, varies } = errors[i] ?? { unit: null, varies: units };
        const set = sets[i];
        const found = set && spaces.of(varies).added(set.x, set.before, set.own);
        const { df, ss } = found ?? { df: 0, ss: 0 };
        const error = spaces.meanSquare({ unit, varies });
        const statistic = df > 0 && error.ms > 0 ? ss / df / error.ms : null;
        const p = statistic === null ? null : fUpper(statistic, df, error.df);
        return { term: design.terms[i]?.name ?? '', df, ss, error, statistic, p };
      };
      return { spaces, centre, test };
    },
  };
}

function spacesOf(design: Design, all: readonly UnitCodes[]): (y: Float64Array) => Spaces {
  const x = sumMatrix(design);
  const layouts = new Map<number, UnitSpace>();
  const keyOf = (units: readonly UnitCodes[]): number =>
    units.reduce((sum, unit) => sum + 2 ** all.indexOf(unit), 0);
  return (y) => {
    const known = new Map<number, AdjustedSpace>();
    const of = (units: readonly UnitCodes[]): AdjustedSpace => {
      const key = keyOf(units);
      const layout = layouts.get(key) ?? unitSpace(x, units);
      layouts.set(key, layout);
      const space = known.get(key) ?? layout.of(y);
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
): { unit: string; variance: number; df: number }[] {
  const residual = spaces.meanSquare({ unit: null, varies: ordered });
  const found = new Map<UnitCodes, Combination>();
  for (const unit of [...ordered].reverse()) {
    const { varies } = ownErrorTerm(unit, ordered);
    const own = spaces.meanSquare({ unit, varies });
    if (own.df === 0) continue;
    const without = spaces.of(varies);
    const within = spaces.of([...varies, unit]);
    const rest: Combination = new Map([[own, own.df]]);
    add(rest, residual, -own.df);
    for (const [finer, parts] of found) {
      if (varies.includes(finer)) continue;
      const times = without.leftOf(finer) - within.leftOf(finer);
      for (const [ms, share] of parts) add(rest, ms, -times * share);
    }
    const size = without.leftOf(unit);
    found.set(unit, new Map([...rest].map(([ms, share]) => [ms, share / size])));
  }
  return [
    ...ordered.flatMap((unit) => {
      const parts = found.get(unit);
      return parts ? [{ unit: unit.unit, ...combined(parts) }] : [];
    }),
    { unit: 'residual', variance: residual.ms, df: residual.df },
  ];
}

/** A sum of mean squares, each times its number. */
type Combination = Map<MeanSquare, number>;

function add(to: Combination, ms: MeanSquare, share: number): void {
  to.set(ms, (to.get(ms) ?? 0) + share);
}

/** Its value, and its df after Satterthwaite, the mean squares taken as independent. */
function combined(parts: Combination): { variance: number; df: number } {
  let variance = 0;
  let spread = 0;
  for (const [{ ms, df }, share] of parts) {
    variance += share * ms;
    spread += (share * ms) ** 2 / df;
  }
  return { variance, df: variance ** 2 / spread };
}
