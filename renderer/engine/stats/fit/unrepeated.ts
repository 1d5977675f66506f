import type { Design, UnitCodes } from '../design';
import { factorise, selectColumns } from '../linear';
import { refines } from '../strata';
import type { FittedModel, Matrix } from '../model';
import { real, whole } from '../../entry';

/** Units that the fixed terms (and coarser units) account for wholly: they have no df left. */
export interface UnrepeatedUnit {
  readonly unit: string;
  /** Whether the effects of such units are part of a combination of the coefficients. */
  touches(weights: Float64Array): boolean;
}

/** Weights below this share of the largest are rounding. */
const ROUNDING = 1e-9;

/**
 * The random units without degrees of freedom. Their indicators Z are XB (with coarser units beside
 * X): a combination wᵀβ then carries wᵀB of the effects of those units, whose variance nothing
 * shows; where wᵀB ≠ 0 it has neither a standard error nor a test. Units that the fixed blocks alone
 * account for are no matter of chance and are passed over.
 */
export function unrepeatedUnits(design: Design, random: readonly UnitCodes[]): UnrepeatedUnit[] {
  return random.flatMap((unit) => {
    const coarser = random.filter((other) => other !== unit && refines(unit, other));
    const width = design.x.columns + coarser.reduce((sum, other) => sum + other.levels, 0);
    if (unit.levels > width) return [];
    const qr = factorise(withIndicators(design.x, [...coarser, unit]));
    if (qr.kept.some((j) => j >= width) || blocksHold(design, unit)) return [];
    const shares = qr.aliased.flatMap((j, k) => {
      if (j < width) return [];
      const combination = qr.aliasCombination(k);
      const own = new Float64Array(design.x.columns);
      let size = 0;
      qr.kept.forEach((column, i) => {
        if (column < own.length) own[column] = real(combination, i);
        size = Math.max(size, Math.abs(real(combination, i)));
      });
      return [{ own, size }];
    });
    const touches = (weights: Float64Array): boolean => {
      const largest = weights.reduce((most, weight) => Math.max(most, Math.abs(weight)), 0);
      return shares.some(({ own, size }) => {
        let sum = 0;
        for (let j = 0; j < own.length; j++) sum += real(own, j) * real(weights, j);
        return Math.abs(sum) > ROUNDING * size * largest;
      });
    };
    return [{ unit: unit.unit, touches }];
  });
}

function blocksHold(design: Design, unit: UnitCodes): boolean {
  const blocks = design.terms.filter((term) => term.role === 'block');
  if (blocks.length === 0) return false;
  const x = selectColumns(design.x, [0, ...blocks.flatMap((term) => term.columns)]);
  const qr = factorise(withIndicators(x, [unit]));
  return qr.kept.every((j) => j < x.columns);
}

function withIndicators(x: Matrix, units: readonly UnitCodes[]): Matrix {
  const columns = units.reduce((sum, unit) => sum + unit.levels, x.columns);
  const data = new Float64Array(x.rows * columns);
  for (let i = 0; i < x.rows; i++) {
    data.set(x.data.subarray(i * x.columns, (i + 1) * x.columns), i * columns);
    let at = i * columns + x.columns;
    for (const unit of units) {
      data[at + whole(unit.codes, i)] = 1;
      at += unit.levels;
    }
  }
  return { rows: x.rows, columns, data };
}

/** Says that a term cannot be tested, why, and what would help. */
export function unrepeatedWarning(term: string, unit: string): string {
  return (
    `${term} has no p value. The fixed terms use up all degrees of freedom between units of ` +
    `${unit}, so nothing shows how such units differ when treated alike. Each level needs two or ` +
    'more of them.'
  );
}

/** The same model, with no standard error for what rests on units without degrees of freedom. */
export function withoutUnrepeated(
  fit: FittedModel,
  unrepeated: readonly UnrepeatedUnit[],
): FittedModel {
  return {
    coefficients: fit.coefficients,
    covariance: fit.covariance,
    test: (contrasts) => fit.test(contrasts),
    estimate(weights) {
      const found = fit.estimate(weights);
      const without = unrepeated.some(({ touches }) => touches(weights));
      return without ? { ...found, se: NaN, df: NaN } : found;
    },
  };
}
