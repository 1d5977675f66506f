import { z } from 'zod';

/**
 * The request and the result of one analysis of a table in long form (one row a pot).
 * The batch verb `fit`, the findings stage and the any-table import all speak this.
 */

const columnName = z.string().min(1);
const columns = z.array(columnName);

export const comparisonMethod = z.enum(['tukey', 'dunnett', 'holm', 'bonferroni', 'none']);
export const checkName = z.enum(['brown-forsythe', 'levene', 'bartlett', 'shapiro-wilk', 'moran']);
export const positionModel = z.enum(['edge', 'linear', 'rows+columns', 'smooth', 'ar1']);
export type GridModel = z.infer<typeof positionModel>;

export type PlaceCovariance = 'surface' | 'neighbours';

/**
 * How place enters each of them: in columns of the design alone, as rows and columns that vary at
 * random, or as a covariance that depends on where the rows of the table stand.
 */
export const placeTraits: Record<
  GridModel,
  { isFixed: boolean; randomLines: boolean; covarianceOf: PlaceCovariance | null }
> = {
  edge: { isFixed: true, randomLines: false, covarianceOf: null },
  linear: { isFixed: true, randomLines: false, covarianceOf: null },
  'rows+columns': { isFixed: false, randomLines: true, covarianceOf: null },
  smooth: { isFixed: false, randomLines: false, covarianceOf: 'surface' },
  ar1: { isFixed: false, randomLines: false, covarianceOf: 'neighbours' },
};

export const fitRequestSchema = z.strictObject({
  response: columnName,
  scale: z.enum(['identity', 'log', 'log1p', 'sqrt']).default('identity'),
  counts: z.enum(['poisson', 'quasi-poisson', 'negative-binomial']).nullable().default(null),
  /** Counts: a column of exposure (area, days, plants at risk); means are per unit of it. */
  offset: columnName.nullable().default(null),
  treatments: columns.default([]),
  interactions: z.union([z.enum(['all', 'none']), z.array(columns.min(2))]).default('all'),
  covariates: columns.default([]),
  covariateInteractions: z.array(columns.min(2)).default([]),
  fixedBlocks: columns.default([]),
  randomUnits: z.array(columns.min(1)).default([]),
  exactStrata: z.boolean().default(false),
  position: z
    .strictObject({
      row: columnName,
      column: columnName,
      within: columns.default([]),
      model: positionModel,
    })
    .nullable()
    .default(null),
  tests: z.enum(['sequential', 'adjusted', 'marginal']).default('adjusted'),
  denominator: z
    .enum(['satterthwaite', 'kenward-roger', 'containment', 'units', 'asymptotic'])
    .default('satterthwaite'),
  means: z.array(columns.min(1)).default([]),
  compare: z
    .array(
      z.strictObject({
        means: z.union([columnName.transform((name) => [name]), columns.min(1)]),
        by: columns.default([]),
        method: comparisonMethod,
        against: z.string().nullable().default(null),
      }),
    )
    .default([]),
  /** Comparisons stated in advance: adjusted means of a factor's levels times weights that sum to 0. */
  contrasts: z
    .array(
      z.strictObject({
        name: z.string().min(1),
        of: columnName,
        /** By level; a level that is not named has the weight 0. */
        weights: z.record(z.string(), z.number()),
      }),
    )
    .default([]),
  confidence: z.number().gt(0).lt(1).default(0.95),
  checks: z.array(checkName).default([]),
  moran: z
    .strictObject({
      row: columnName,
      column: columnName,
      within: columns.default([]),
      neighbours: z.enum(['rook', 'queen']).default('rook'),
    })
    .nullable()
    .default(null),
  redraw: z
    .strictObject({
      within: columns.default([]),
      unit: columns.default([]),
      runs: z.union([z.int().min(1).max(1_000_000), z.literal('all')]),
      seed: z.string().default(''),
      term: z.string().optional(),
    })
    .nullable()
    .default(null),
});

export type FitRequest = z.infer<typeof fitRequestSchema>;

export interface TermRow {
  term: string;
  df: number;
  ss: number | null;
  ms: number | null;
  dfError: number | null;
  statistic: number | null;
  kind: 'F' | 'chi-square';
  p: number | null;
  /** The unit whose variation is the error term, e.g. `shelf × tray`; `residual` for single pots. */
  stratum: string | null;
  /** Where p comes from layouts drawn anew. */
  randomised?: RandomisedRow;
}

export interface RandomisedRow {
  layouts: number;
  asExtreme: number;
  /** Whether those are all layouts that the draw can give. */
  exact: boolean;
  /** The least p that the draw, or so many layouts, can give. */
  leastP: number;
  /** Other things than the tested one moved, or had to be taken out of the response first. */
  approximate: boolean;
}

export interface MeanRow {
  /** The level of each factor in `of`, by factor name. */
  [factor: string]: string | number | null;
  mean: number;
  se: number;
  /** null: no finite df (asymptotic). */
  df: number | null;
  lower: number;
  upper: number;
}

export interface ComparisonRow {
  a: string;
  b: string;
  difference: number;
  se: number;
  /** Least significant difference at 1 − confidence, for this comparison alone. */
  lsd: number;
  df: number | null;
  statistic: number;
  p: number;
  lower: number;
  upper: number;
  /** Where the row is by profile likelihood: the same from difference and standard error. */
  wald?: { statistic: number; p: number; lower: number; upper: number };
  /** Within which levels of the `by` factors. */
  within?: Record<string, string>;
}

export interface ContrastRow {
  name: string;
  of: string;
  estimate: number;
  se: number;
  df: number | null;
  statistic: number;
  p: number;
  lower: number;
  upper: number;
}

export interface FitResult {
  n: number;
  dropped: number;
  method: string;
  terms: TermRow[];
  residual: { df: number; ss: number; ms: number } | null;
  /** Intervals after Satterthwaite; null where the variance is not above zero, or has no df told. */
  variance: {
    unit: string;
    variance: number;
    df: number | null;
    lower: number | null;
    upper: number | null;
  }[];
  /** Under the unit rule: what terms are judged by, coarsest units first, then the residual. */
  meanSquares: { unit: string; df: number; ss: number; ms: number | null }[];
  logLik: number | null;
  criterion: 'REML' | 'ML' | null;
  aic: number | null;
  /** With intervals at the confidence of the request, of slopes among them. */
  coefficients: {
    name: string;
    estimate: number;
    se: number;
    df: number | null;
    lower: number;
    upper: number;
  }[];
  means: { of: string[]; rows: MeanRow[] }[];
  comparisons: {
    of: string[];
    by: string[];
    method: z.infer<typeof comparisonMethod>;
    rows: ComparisonRow[];
    letters: Record<string, string>;
    /** Where layouts drawn anew judge them; adjusted ones by the largest |t| of the family. */
    randomised?: true;
  }[];
  contrasts: ContrastRow[];
  /**
   * The full likelihood at the estimates, on the same footing for least squares and REML whatever
   * the fixed part; null where the kind of model has none (error strata, counts, an exact fit).
   */
  information: { logLik: number; parameters: number; aic: number } | null;
  checks: Record<string, Record<string, number | null>>;
  redraw: { runs: number; asExtreme: number; p: number; exact: boolean; term: string } | null;
  spatial: {
    rowCorrelation: number;
    columnCorrelation: number;
    spatialVariance: number;
    nugget: number;
  } | null;
  wald: { chiSquare: number; df: number } | null;
  dispersion: number | null;
  /** Per row of the table that entered the fit: its index in the table, fitted value, residual, leverage. */
  rows: { index: number; fitted: number; residual: number; leverage: number | null }[];
  warnings: string[];
}

/** A table in long form: named columns of equal length; null is a missing value. */
export interface DataTable {
  columns: Record<string, (string | number | null)[]>;
  rowCount: number;
}
