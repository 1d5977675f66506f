import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import { Refusal } from '../../../words';
import type { Matrix } from '../model';
import type { Category } from '../table/columns';
import { readTrialData } from '../table/data';
import { centre } from './centre';
import { fillColumn, termColumns } from './coding';
import type { Coding, DesignColumn } from './coding';
import { positionPart } from './position';
import { listTerms } from './terms';
import type { TermOutline } from './terms';

export interface DesignTerm extends TermOutline {
  /** Indices of the columns that it owns. */
  readonly columns: readonly number[];
}

/**
 * The fixed part of a model in reference coding. Column 0 is the intercept, which belongs to no
 * term; the columns of the terms follow in order.
 */
export interface Design {
  readonly terms: readonly DesignTerm[];
  readonly columns: readonly DesignColumn[];
  readonly columnNames: readonly string[];
  readonly x: Matrix;
  /** Response on the scale of the request, one a row of `x`. */
  readonly y: Float64Array;
  /** Index in the table of each row of `x`. */
  readonly rowIndex: Int32Array;
  /** Rows of the table left out because their response is missing. */
  readonly dropped: number;
  readonly factors: ReadonlyMap<string, Category>;
  /** Values less their mean over the rows of the fit, as they enter `x`. */
  readonly covariates: ReadonlyMap<string, Float64Array>;
  /** That mean, by covariate. */
  readonly centres: ReadonlyMap<string, number>;
  readonly warnings: readonly string[];
}

/** Reads the table as the request says and lays out the fixed part of the model. */
export function buildDesign(request: FitRequest, table: DataTable): Design {
  const data = readTrialData(request, table);
  const taken = new Set([
    ...request.fixedBlocks,
    ...request.covariates,
    ...request.treatments,
    request.response,
  ]);
  const position = positionPart(request.position, table, data.rowIndex, taken);
  const factors = new Map(data.factors);
  const measured = new Map([...data.covariates, ...position.covariates]);
  const covariates = new Map<string, Float64Array>();
  const centres = new Map<string, number>();
  for (const [name, values] of measured) {
    const centred = centre(values);
    covariates.set(name, centred.values);
    centres.set(name, centred.mean);
  }
  for (const factor of position.factors) factors.set(factor.name, factor);
  const listed = listTerms(request, {
    factors: position.factors.map((factor) => factor.name),
    covariates: [...position.covariates.keys()],
  });
  const warnings = [...listed.warnings];
  const outlines = listed.terms.filter((term) => {
    const single = term.factors.find((name) => (factors.get(name)?.levels.length ?? 0) < 2);
    if (single === undefined) return true;
    warnings.push(
      `${term.name} was left out: all rows with a response share one level of ${single}.`,
    );
    return false;
  });
  refuseExcess(outlines, factors, data.n);
  const columns: DesignColumn[] = [
    { name: '(intercept)', term: -1, levels: new Map(), covariates: [] },
  ];
  const terms = outlines.map((outline, index): DesignTerm => {
    const own = termColumns(outline, index, factors);
    const first = columns.length;
    columns.push(...own);
    return { ...outline, columns: own.map((_, i) => first + i) };
  });
  const layout = { terms, columns, factors, covariates };
  return {
    ...layout,
    centres,
    columnNames: columns.map((column) => column.name),
    x: designMatrix(layout, data.n, 'reference'),
    y: data.response,
    rowIndex: data.rowIndex,
    dropped: data.dropped,
    warnings,
  };
}

/** Far more than any trial has: by then a column of single plants is taken for treatments. */
const MOST_COEFFICIENTS = 2_000;
/** 400 MB of them. */
const MOST_CELLS = 50_000_000;

/** Refuses a model whose matrix would take up the memory, before any of it is laid out. */
function refuseExcess(
  outlines: readonly TermOutline[],
  factors: ReadonlyMap<string, Category>,
  rows: number,
): void {
  const sizes = outlines.map(({ factors: names }) =>
    names.reduce((size, name) => size * ((factors.get(name)?.levels.length ?? 1) - 1), 1),
  );
  const coefficients = 1 + sizes.reduce((sum, size) => sum + size, 0);
  if (coefficients <= MOST_COEFFICIENTS && coefficients * rows <= MOST_CELLS) return;
  const [most = 0] = [...sizes.keys()].sort((a, b) => (sizes[b] ?? 0) - (sizes[a] ?? 0));
  throw new Refusal(
    `model: it has ${coefficients} coefficients on ${rows} rows, most of them of ${outlines[most]?.name}; ` +
      `at most ${MOST_COEFFICIENTS} are expected, and fewer where there are over ${MOST_CELLS / MOST_COEFFICIENTS} rows`,
  );
}

/** By the design's own matrix, which all that stand for one layout share. */
const sumCoded = new WeakMap<Matrix, Matrix>();

/** The matrix of a design with factors coded to add to zero over their levels. */
export function sumMatrix(design: Design): Matrix {
  const made = sumCoded.get(design.x) ?? designMatrix(design, design.x.rows, 'sum');
  sumCoded.set(design.x, made);
  return made;
}

type Layout = Pick<Design, 'terms' | 'columns' | 'factors' | 'covariates'>;

/** The matrix of a layout in either coding; both have the same number of columns a term. */
export function designMatrix(layout: Layout, n: number, coding: Coding): Matrix {
  const { terms, factors, covariates } = layout;
  const columns =
    coding === 'reference'
      ? layout.columns
      : [
          ...layout.columns.slice(0, 1),
          ...terms.flatMap((term, index) => termColumns(term, index, factors, coding)),
        ];
  const data = new Float64Array(n * columns.length);
  columns.forEach((column, j) => {
    fillColumn(data, columns.length, j, column, factors, covariates, coding);
  });
  return { rows: n, columns: columns.length, data };
}
