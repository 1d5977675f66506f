import { sameNames, sumMatrix } from '../design';
import type { Design, DesignTerm } from '../design';
import type { FitRequest } from '../../../../shared-types/fit';
import { SPANNED, type Qr } from '../linear/householder';
import { columnLists, dot, fromColumns, fromRows, rowTimes, selectColumns } from '../linear/matrix';
import { factorise, spaceOf } from '../linear/qr';
import { isEstimable } from '../linear/estimable';
import type { Matrix } from '../model';
import { num } from '../../entry';

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
  const x = order === 'marginal' ? sumMatrix(design) : design.x;
  return design.terms.map((term, index) => {
    const others = design.terms.filter((other, i) => {
      if (order === 'sequential') return i < index;
      if (i === index) return false;
      return order === 'marginal' || !contains(other, term);
    });
    return { x, before: [0, ...others.flatMap((other) => other.columns)], own: term.columns };
  });
}

/** Orthonormal directions in the column space of all terms, in the coordinates of its factors. */
interface TermCoordinates {
  readonly qr: Qr;
  readonly own: readonly Float64Array[];
}

function termCoordinates(design: Design, order: TestOrder): TermCoordinates[] {
  if (order === 'sequential') {
    const qr = spaceOf(design.x);
    return design.terms.map((term) => ({
      qr,
      own: qr.kept.flatMap((j, k) =>
        term.columns.includes(j) ? [new Float64Array(qr.rank).fill(1, k, k + 1)] : [],
      ),
    }));
  }
  let last: { of: Matrix; within: Within } | null = null;
  return termColumnSets(design, order).map(({ x, before, own }) => {
    if (last?.of !== x) last = { of: x, within: withinSpace(x, spaceOf(design.x)) };
    const { qr, inside } = last.within;
    const part = factorise(selectColumns(inside, [...before, ...own]));
    return { qr, own: part.kept.flatMap((j, k) => (j < before.length ? [] : [part.direction(k)])) };
  });
}

/** Columns in the space of all terms, which has few dimensions however many rows there are. */
interface Within {
  readonly qr: Qr;
  readonly inside: Matrix;
}

/** By the factors of the design, whose columns span those of the other coding; by their own if not. */
function withinSpace(x: Matrix, space: Qr): Within {
  const turned = columnLists(x);
  const isSpanned = turned.every((column) => {
    const length = dot(column, column);
    space.applyQt(column);
    const left = column.subarray(space.rank);
    return dot(left, left) <= SPANNED ** 2 * length;
  });
  if (isSpanned) return { qr: space, inside: fromColumns(turned, space.rank) };
  const qr = spaceOf(x);
  const columns = turned.map((_, j) => qr.coordinates(j));
  return { qr, inside: fromColumns(columns, qr.rank) };
}

/**
 * Orthonormal directions of the data space in which each term is tested: what its columns add
 * to the column space of the terms it is adjusted for. The squared lengths of the response along
 * them add to the term's sum of squares; there are as many as the term has df.
 */
export function termDirections(design: Design, order: TestOrder): Float64Array[][] {
  return termCoordinates(design, order).map(({ qr, own }) =>
    own.map((coordinates) => {
      const direction = new Float64Array(qr.rows);
      direction.set(coordinates);
      qr.applyQ(direction);
      return direction;
    }),
  );
}

/** A response along the directions of each term. */
export function alongTerms(design: Design, order: TestOrder, y: Float64Array): number[][] {
  const turned = new Map<Qr, Float64Array>();
  return termCoordinates(design, order).map(({ qr, own }) => {
    const along = turned.get(qr) ?? y.slice();
    if (!turned.has(qr)) {
      qr.applyQt(along);
      turned.set(qr, along);
    }
    return own.map((coordinates) => dot(coordinates, along));
  });
}

/**
 * For each term the contrasts of the coefficients (reference coding) that are zero when the term
 * adds nothing; one row a df. Sequential and adjusted ones are scaled to weigh their own column
 * by 1 (an adjusted term that no other one contains is its own coefficients); marginal ones are
 * differences from the reference levels, averaged over the other factors. (Approximate df of a
 * joint test depend on which of the equivalent rows are taken.)
 */
export function termContrasts(design: Design, order: TestOrder): Matrix[] {
  const space = spaceOf(design.x);
  // A single term is adjusted for the intercept alone, whatever the order.
  if (design.terms.length === 1) order = 'sequential';
  return design.terms.map((_, index) => {
    if (order === 'marginal') {
      const rows = marginalRows(design, index);
      if (rows.every((row) => isEstimable(space, row))) return fromRows(rows, design.x.columns);
    }
    const projected = projectedRows(design, index, order);
    const own = order === 'adjusted' ? ownRows(design, space, index) : [];
    return fromRows(own.length === projected.length ? own : projected, design.x.columns);
  });
}

/** The coefficients of a term themselves; none where another term contains it. */
function ownRows(design: Design, space: Qr, index: number): Float64Array[] {
  const term = design.terms[index];
  if (!term || design.terms.some((other) => contains(other, term))) return [];
  return term.columns
    .filter((j) => space.kept.includes(j))
    .map((j) => new Float64Array(design.x.columns).fill(1, j, j + 1));
}

function projectedRows(design: Design, index: number, order: TestOrder): Float64Array[] {
  const set = termColumnSets(design, order)[index];
  if (!set) return [];
  const columns = [...set.before, ...set.own];
  const qr = factorise(selectColumns(set.x, columns));
  return qr.kept.flatMap((j, k) => {
    if (j < set.before.length) return [];
    const row = rowTimes(qr.direction(k), design.x);
    const pivot = order === 'marginal' ? 1 : row[num(columns, j)] || 1;
    return [row.map((value) => value / pivot)];
  });
}

/**
 * What a term's levels differ by from its reference levels when all other factors are averaged
 * with equal weights: the row of a column weighs each column that crosses at least the same
 * levels by 1 / (levels of every further factor).
 */
function marginalRows(design: Design, index: number): Float64Array[] {
  const term = design.terms[index];
  if (!term) return [];
  return term.columns.map((own) => {
    const levels = design.columns[own]?.levels ?? new Map<string, number>();
    return Float64Array.from(design.columns, (column) => {
      if (!sameNames(column.covariates, term.covariates)) return 0;
      for (const [name, level] of levels) if (column.levels.get(name) !== level) return 0;
      let weight = 1;
      for (const name of column.levels.keys()) {
        if (!levels.has(name)) weight /= design.factors.get(name)?.levels.length ?? 1;
      }
      return weight;
    });
  });
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
