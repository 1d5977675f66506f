import { designMatrix } from '../design';
import type { Design, DesignTerm } from '../design';
import type { FitRequest } from '../../../../shared-types/fit';
import { fromRows, rowTimes, selectColumns } from '../linear/matrix';
import { factorise } from '../linear/qr';
import type { Matrix } from '../model';

export type TestOrder = FitRequest['tests'];

/** What a term is adjusted for, as columns of a matrix in one of the two codings. */
export interface TermColumns {
  readonly x: Matrix;
  /** Columns of what the term is adjusted for. */
  readonly before: readonly number[];
  /** Columns of the term itself. */
  readonly own: readonly number[];
}

/**
 * Which columns each term is adjusted for.
 * - sequential: the terms before it.
 * - adjusted: every term that does not contain it.
 * - marginal: every other term, factors coded to add to zero over their levels.
 */
export function termColumnSets(design: Design, order: TestOrder): TermColumns[] {
  const x = order === 'marginal' ? designMatrix(design, design.x.rows, 'sum') : design.x;
  return design.terms.map((term, index) => {
    const others = design.terms.filter((other, i) => {
      if (order === 'sequential') return i < index;
      if (i === index) return false;
      return order === 'marginal' || !contains(other, term);
    });
    return { x, before: [0, ...others.flatMap((other) => other.columns)], own: term.columns };
  });
}

/**
 * Orthonormal directions of the data space in which each term is tested: what its columns add
 * to the column space of the terms it is adjusted for. The squared lengths of the response along
 * them add to the term's sum of squares; there are as many as the term has df.
 */
export function termDirections(design: Design, order: TestOrder): Float64Array[][] {
  if (order === 'sequential') {
    const qr = factorise(design.x);
    return design.terms.map((term) =>
      qr.kept.flatMap((j, k) => (term.columns.includes(j) ? [qr.direction(k)] : [])),
    );
  }
  return termColumnSets(design, order).map(({ x, before, own }) => {
    const qr = factorise(selectColumns(x, [...before, ...own]));
    return qr.kept.flatMap((j, k) => (j >= before.length ? [qr.direction(k)] : []));
  });
}

/**
 * For each term the contrasts of the coefficients (reference coding) that are zero when the term
 * adds nothing; one row a df.
 */
export function termContrasts(design: Design, order: TestOrder): Matrix[] {
  return termDirections(design, order).map((directions) =>
    fromRows(
      directions.map((direction) => rowTimes(direction, design.x)),
      design.x.columns,
    ),
  );
}

interface Crossing {
  readonly factors: readonly string[];
  readonly covariates: readonly string[];
}

/** Whether `larger` crosses all that `smaller` crosses, and more. */
function contains(larger: Crossing, smaller: Crossing): boolean {
  return (
    larger.factors.length + larger.covariates.length >
      smaller.factors.length + smaller.covariates.length &&
    smaller.factors.every((name) => larger.factors.includes(name)) &&
    smaller.covariates.every((name) => larger.covariates.includes(name))
  );
}

/** Contrasts that are zero when none of the chosen terms adds anything to the others. */
export function jointContrasts(design: Design, chosen: (term: DesignTerm) => boolean): Matrix {
  const own = design.terms.filter(chosen).flatMap((term) => term.columns);
  const before = design.columns.map((_, j) => j).filter((j) => !own.includes(j));
  const qr = factorise(selectColumns(design.x, [...before, ...own]));
  const directions = qr.kept.flatMap((j, k) => (j >= before.length ? [qr.direction(k)] : []));
  return fromRows(
    directions.map((direction) => rowTimes(direction, design.x)),
    design.x.columns,
  );
}
