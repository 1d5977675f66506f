import type { Category } from '../table/columns';
import type { TermOutline } from './terms';
import { real, whole } from '../../entry';

/** `reference`: the first level is the one to compare with; `sum`: the levels of a factor add to zero. */
export type Coding = 'reference' | 'sum';

/** One column of the design: the level of each factor and the covariates that it multiplies. */
export interface DesignColumn {
  readonly name: string;
  /** Index into the terms; -1 for the intercept. */
  readonly term: number;
  /** Level index by factor name. */
  readonly levels: ReadonlyMap<string, number>;
  readonly covariates: readonly string[];
}

/**
 * The columns of a term. Reference coding leaves the first level of each factor out, sum coding
 * the last; the earlier factors vary fastest.
 */
export function termColumns(
  term: TermOutline,
  index: number,
  factors: ReadonlyMap<string, Category>,
  coding: Coding = 'reference',
): DesignColumn[] {
  let combinations: Map<string, number>[] = [new Map()];
  for (const name of term.factors) {
    const count = (factors.get(name)?.levels.length ?? 0) - 1;
    const shift = coding === 'reference' ? 1 : 0;
    combinations = Array.from({ length: count }, (_, i) => i + shift).flatMap((level) =>
      combinations.map((levels) => new Map(levels).set(name, level)),
    );
  }
  return combinations.map((levels) => ({
    name: [
      ...term.covariates,
      ...[...levels].map(([name, l]) => `${name} ${factors.get(name)?.levels[l] ?? ''}`),
    ].join(' × '),
    term: index,
    levels,
    covariates: term.covariates,
  }));
}

/** Writes the values of a column into `data` (row major, `width` columns) at column `at`. */
export function fillColumn(
  data: Float64Array,
  width: number,
  at: number,
  column: DesignColumn,
  factors: ReadonlyMap<string, Category>,
  covariates: ReadonlyMap<string, Float64Array>,
  coding: Coding,
): void {
  const n = data.length / width;
  for (let i = 0; i < n; i++) data[i * width + at] = 1;
  for (const [name, level] of column.levels) {
    const factor = factors.get(name);
    if (!factor) continue;
    const last = factor.levels.length - 1;
    for (let i = 0; i < n; i++) {
      const code = whole(factor.codes, i);
      const value = code === level ? 1 : coding === 'sum' && code === last ? -1 : 0;
      data[i * width + at] = real(data, i * width + at) * value;
    }
  }
  for (const name of column.covariates) {
    const values = covariates.get(name);
    if (!values) continue;
    for (let i = 0; i < n; i++) {
      data[i * width + at] = real(data, i * width + at) * real(values, i);
    }
  }
}
