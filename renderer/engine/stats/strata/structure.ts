import type { UnitCodes } from '../design';
import { mean } from '../linear';
import { Refusal } from '../../../words';
import { num, real, whole } from '../../entry';

/** One error stratum: what units of one kind vary by beyond the coarser kinds they lie in. */
export interface ErrorStratum {
  /** Unit name; `residual` for single rows. */
  readonly unit: string;
  readonly df: number;
  /** Rows a unit holds. */
  readonly size: number;
  /** Indices of the strata whose units hold units of this one whole. */
  readonly coarser: readonly number[];
  /** Each entry of a data vector (one a row) replaced by the mean of its unit. */
  average(v: Float64Array): Float64Array;
}

/**
 * The parts of a data vector that lie in the strata, in their order: unit means less what lies in
 * the coarser strata, and the grand mean in none.
 */
export function split(strata: readonly ErrorStratum[], v: Float64Array): Float64Array[] {
  const centre = mean(v);
  const parts: Float64Array[] = [];
  for (const { average, coarser } of strata) {
    const part = average(v);
    for (let i = 0; i < part.length; i++) {
      let above = centre;
      for (const c of coarser) above += parts[c]?.[i] ?? 0;
      part[i] = real(part, i) - above;
    }
    parts.push(part);
  }
  return parts;
}

/**
 * The error strata of nested or evenly crossed units, coarsest first, `residual` last.
 *
 * Refused, with the reason, where the units hold unequal numbers of rows, cross unevenly, or share
 * a part that is no listed unit: the strata would then not be orthogonal or not have one variance
 * each (Nelder 1965, Proceedings of the Royal Society A 283, 147–162).
 */
export function buildStrata(units: readonly UnitCodes[], rows: number): ErrorStratum[] {
  const ordered = [...units]
    .filter((unit) => unit.levels < rows)
    .sort((a, b) => a.levels - b.levels);
  const sizes = ordered.map((unit) => equalSize(unit, rows));
  ordered.forEach((unit, i) => {
    for (const other of ordered.slice(0, i)) checkCrossing(other, unit, ordered);
  });
  const strata: ErrorStratum[] = [];
  const add = (
    unit: string,
    levels: number,
    size: number,
    coarser: number[],
    average: (v: Float64Array) => Float64Array,
  ): void => {
    const above = coarser.reduce((sum, s) => sum + (strata[s]?.df ?? 0), 0);
    strata.push({ unit, size, coarser, df: levels - 1 - above, average });
  };
  ordered.forEach((unit, i) => {
    const coarser = ordered.slice(0, i).flatMap((other, k) => (refines(unit, other) ? [k] : []));
    const size = sizes[i] ?? 1;
    add(unit.unit, unit.levels, size, coarser, (v) => averageBy(unit, size, v));
  });
  add('residual', rows, 1, [...strata.keys()], (v) => v.slice());
  return strata;
}

function averageBy({ codes, levels }: UnitCodes, size: number, v: Float64Array): Float64Array {
  const means = new Float64Array(levels);
  for (let i = 0; i < v.length; i++) {
    const code = whole(codes, i);
    means[code] = real(means, code) + real(v, i) / size;
  }
  return v.map((_, i) => real(means, whole(codes, i)));
}

function equalSize(unit: UnitCodes, rows: number): number {
  const counts = new Array<number>(unit.levels).fill(0);
  for (const code of unit.codes) counts[code] = num(counts, code) + 1;
  const least = Math.min(...counts);
  const most = Math.max(...counts);
  if (least !== most) {
    throw new Refusal(
      `exactStrata: the units of ${unit.unit} hold between ${least} and ${most} rows; exact ` +
        'error strata need the same number in each (a mixed model does not)',
    );
  }
  return rows / unit.levels;
}

/** Whether every unit of `fine` lies within one unit of `coarse`. */
export function refines(fine: UnitCodes, coarse: UnitCodes): boolean {
  const home = new Map<number, number>();
  for (let i = 0; i < fine.codes.length; i++) {
    const code = whole(fine.codes, i);
    const outer = whole(coarse.codes, i);
    const known = home.get(code);
    if (known === undefined) home.set(code, outer);
    else if (known !== outer) return false;
  }
  return true;
}

function checkCrossing(a: UnitCodes, b: UnitCodes, listed: readonly UnitCodes[]): void {
  if (refines(b, a)) {
    if (a.levels === b.levels) {
      throw new Refusal(
        `exactStrata: ${a.unit} and ${b.unit} name the same units; expected one of them`,
      );
    }
    return;
  }
  const shared = connected(a, b);
  const counts = new Map<number, number>();
  const sizeA = new Float64Array(a.levels);
  const sizeB = new Float64Array(b.levels);
  const sizeShared = new Float64Array(shared.levels);
  const bump = (array: Float64Array, code: number): void => {
    array[code] = real(array, code) + 1;
  };
  a.codes.forEach((codeA, i) => {
    const codeB = whole(b.codes, i);
    const cell = codeA * b.levels + codeB;
    counts.set(cell, (counts.get(cell) ?? 0) + 1);
    bump(sizeA, codeA);
    bump(sizeB, codeB);
    bump(sizeShared, whole(shared.codes, i));
  });
  a.codes.forEach((codeA, i) => {
    const codeB = whole(b.codes, i);
    const together = counts.get(codeA * b.levels + codeB) ?? 0;
    const holder = real(sizeShared, whole(shared.codes, i));
    if (together * holder === real(sizeA, codeA) * real(sizeB, codeB)) return;
    throw new Refusal(
      `exactStrata: ${a.unit} and ${b.unit} cross unevenly (some combinations have more rows ` +
        'than others); exact error strata need every combination equally often',
    );
  });
  if (shared.levels === 1) return;
  const named = listed.some((unit) => unit.levels === shared.levels && refines(unit, shared));
  if (!named) {
    throw new Refusal(
      `exactStrata: ${a.unit} and ${b.unit} fall into ${shared.levels} separate groups; expected ` +
        'the unit that forms these groups among randomUnits',
    );
  }
}

/** The groups of rows that can be reached from one another through shared units of a or b. */
function connected(a: UnitCodes, b: UnitCodes): UnitCodes {
  const parent = Array.from({ length: a.levels + b.levels }, (_, i) => i);
  const root = (i: number): number => {
    let at = i;
    while (parent[at] !== at && parent[at] !== undefined) at = parent[at] ?? at;
    return at;
  };
  a.codes.forEach((code, i) => {
    parent[root(code)] = root(a.levels + whole(b.codes, i));
  });
  const index = new Map<number, number>();
  const codes = a.codes.map((code) => {
    const at = root(code);
    const known = index.get(at) ?? index.size;
    index.set(at, known);
    return known;
  });
  return { unit: `${a.unit}, ${b.unit}`, columns: [], codes, levels: index.size, names: [] };
}
