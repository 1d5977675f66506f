import { ar1Curvature, freeInverse, PARAMETERS, type Ar1Curvature } from './ar1-curvature';
import { gridOf, type Grid } from './ar1-grid';
import { ar1Point, type Ar1Data } from './ar1-point';
import { ar1Optimum, CLOSEST, type Ar1Limits, type Ar1Optimum } from './ar1-search';
import { addScaled, timesTransposed } from './linalg';
import { orthogonalDesign, sandwich, solveR } from './orthogonal';
import { waldModel, type Yardstick } from './wald';
import type { Matrix } from '../model';
import type { Denominator, MixedFit } from './types';

export interface Ar1Input {
  x: Matrix;
  y: Float64Array;
  /** Position of each pot along rows and columns, in steps of the grid. */
  row: Float64Array;
  column: Float64Array;
  /** Pots of different groups (trays, shelves) are independent. */
  group: Int32Array;
  denominator: Denominator;
  /** False: all variation is spatial. */
  nugget?: boolean;
}

export interface Ar1Fit extends MixedFit {
  readonly spatial: {
    /** Correlation of neighbours one step apart along the rows' numbering, and the columns'. */
    rowCorrelation: number;
    columnCorrelation: number;
    spatialVariance: number;
    /** Variance of the pot itself, unrelated to its neighbours. */
    nugget: number;
  };
}

function checkInput({ x, y, row, column, group }: Ar1Input): void {
  for (const [name, values] of Object.entries({ response: y, row, column, group })) {
    if (values.length !== x.rows) {
      throw new Error(
        `autoregressive model: ${values.length} values of ${name}; expected ${x.rows}, one a row`,
      );
    }
    const bad = values.findIndex((value) => !Number.isFinite(value));
    if (bad >= 0) {
      throw new Error(
        `autoregressive model: ${name} in row ${bad + 1} is ${values[bad]}; expected a number`,
      );
    }
  }
}

function limitsOf(grid: Grid, nugget: boolean): Ar1Limits {
  const one = (distances: Float64Array, whole: boolean) => {
    const free = distances.length > 1;
    // Between whole steps a negative correlation has no meaning.
    return { free, least: free && whole ? -CLOSEST : 0 };
  };
  return {
    row: one(grid.rowDistances, grid.wholeRows),
    column: one(grid.columnDistances, grid.wholeColumns),
    nugget,
  };
}

/** Covariance of the coefficients corrected for small samples (Kenward & Roger 1997). */
function corrected(
  curvature: Ar1Curvature,
  used: readonly number[],
  w: Float64Array,
): Float64Array {
  const { phi, first, second, bend } = curvature;
  const rank = Math.round(Math.sqrt(phi.length));
  const inner = new Float64Array(rank * rank);
  used.forEach((i, a) => {
    used.forEach((j, b) => {
      const weight = w[a * used.length + b] ?? 0;
      const at = i * PARAMETERS.length + j;
      const left = timesTransposed(first[i] ?? phi, rank, phi, rank, rank);
      const product = timesTransposed(left, rank, first[j] ?? phi, rank, rank);
      addScaled(inner, 0, weight, second[at] ?? phi, 0, inner.length);
      addScaled(inner, 0, -weight, product, 0, inner.length);
      addScaled(inner, 0, -weight / 4, bend[at] ?? phi, 0, inner.length);
    });
  });
  const half = timesTransposed(phi, rank, inner, rank, rank);
  const full = timesTransposed(half, rank, phi, rank, rank);
  const out = phi.slice();
  addScaled(out, 0, 2, full, 0, out.length);
  return out;
}

function yardstickOf(
  denominator: Denominator,
  curvature: Ar1Curvature,
  optimum: Ar1Optimum,
  data: Ar1Data,
  limits: Ar1Limits,
): { yardstick: Yardstick; covariance: Float64Array } | null {
  const { design } = data;
  const { rank } = design;
  const covariance = sandwich(design, curvature.phi);
  if (denominator === 'asymptotic') return { yardstick: { kind: 'asymptotic' }, covariance };
  if (denominator === 'containment') {
    const pots = { unit: 'pot', df: design.n - rank };
    return { yardstick: { kind: 'containment', strata: Array(rank).fill(pots) }, covariance };
  }
  const kenwardRoger = denominator === 'kenward-roger';
  const used = [...optimum.free];
  // As among other variances, a nugget at zero counts as estimated here.
  if (kenwardRoger && limits.nugget && !used.includes(3)) used.push(3);
  const matrix = kenwardRoger ? curvature.expected : curvature.observed;
  const inverse = matrix === null ? null : freeInverse(matrix, used);
  if (inverse === null) return null;
  const uncertainty = inverse.map((value) => 2 * value);
  const derivatives = used.map((i) => {
    const half = timesTransposed(
      curvature.phi,
      rank,
      curvature.first[i] ?? curvature.phi,
      rank,
      rank,
    );
    return sandwich(design, timesTransposed(half, rank, curvature.phi, rank, rank));
  });
  return {
    yardstick: { kind: denominator, derivatives, uncertainty },
    covariance: kenwardRoger
      ? sandwich(design, corrected(curvature, used, uncertainty))
      : covariance,
  };
}

/**
 * Plants next to each other alike: V = s·ρ_row^|Δrow|·ρ_column^|Δcolumn| within a group, plus a
 * nugget g on the diagonal, by REML (Cullis & Gleeson 1991, Biometrics 47, 1449–1460).
 * Parameters at an edge are said so in `warnings`. Containment df are those of the pots, n less
 * rank(X).
 */
export function fitAr1(input: Ar1Input): Ar1Fit {
  checkInput(input);
  const { x, y, denominator } = input;
  const design = orthogonalDesign(x);
  const { n, rank } = design;
  const grid = gridOf(input.row, input.column, input.group);
  const limits = limitsOf(grid, input.nugget ?? true);
  const variances = 1 + [limits.row.free, limits.column.free, limits.nugget].filter(Boolean).length;
  if (n - rank <= variances) {
    throw new Error(
      `autoregressive model: ${n} rows and ${rank} coefficients leave ${n - rank} degrees of ` +
        `freedom for ${variances} variance parameters; expected more`,
    );
  }
  const basis = new Float64Array(rank * n);
  for (let k = 0; k < rank; k++) {
    basis[k * n + k] = 1;
    design.turnBack(basis, k * n);
  }
  const data: Ar1Data = { grid, design, basis, y };
  let optimum = ar1Optimum(data, limits);
  const warnings: string[] = [];
  if (limits.nugget) {
    const plain = ar1Point(data, { rowCorrelation: 0, columnCorrelation: 0, nuggetShare: 1 });
    if (plain.value <= optimum.point.value + 1e-8) {
      optimum = { point: plain, free: [3], settled: true };
      warnings.push('Neighbours are no more alike than any two pots; no spatial variance is left.');
    }
  }
  const { shape, total, value } = optimum.point;
  if (limits.nugget && shape.nuggetShare === 0) {
    warnings.push('The nugget is estimated as zero: all variation between pots is spatial.');
  }
  let edge = false;
  for (const [name, rho, free] of [
    ['rows', shape.rowCorrelation, limits.row.free],
    ['columns', shape.columnCorrelation, limits.column.free],
  ] as const) {
    if (!free) {
      warnings.push(`There are no two ${name} in any group; their correlation is not estimated.`);
    } else if (Math.abs(rho) > 0.9999) {
      edge = true;
      warnings.push(
        `The correlation along ${name} is at the edge of what is possible; it and the spatial ` +
          'variance are rough.',
      );
    }
  }
  if (!optimum.settled && !edge) {
    warnings.push('The search for the correlations did not settle; take them as rough.');
  }

  const plainPots = shape.nuggetShare === 1;
  const needed = denominator === 'satterthwaite' || denominator === 'kenward-roger';
  const curvature = ar1Curvature(data, optimum.point, needed && !plainPots);
  let reference = plainPots
    ? plainYardstick(denominator, curvature, data, total)
    : yardstickOf(denominator, curvature, optimum, data, limits);
  if (reference === null) {
    warnings.push(
      'The correlations and variances cannot be told apart by these data, so tests are referred ' +
        'to the normal and chi-square distributions and are too hopeful.',
    );
    reference = { yardstick: { kind: 'asymptotic' }, covariance: sandwich(design, curvature.phi) };
  }
  const nugget = total * shape.nuggetShare;
  const spatialVariance = total * (1 - shape.nuggetShare);
  const model = waldModel({
    columns: x.columns,
    kept: design.kept,
    beta: solveR(design, curvature.beta, 1),
    phi: sandwich(design, curvature.phi),
    ...reference,
  });
  const logLik = -value / 2;
  return {
    ...model,
    variance: [
      { unit: 'spatial', variance: spatialVariance },
      { unit: 'residual', variance: nugget },
    ],
    logLik,
    criterion: 'REML',
    aic: -2 * logLik + 2 * (rank + variances),
    // y − gV⁻¹(y − Xβ): all but the part that is the pot's own.
    fitted: y.map((one, i) => one - nugget * (curvature.weighted[i] ?? 0)),
    warnings,
    spatial: {
      rowCorrelation: plainPots ? 0 : shape.rowCorrelation,
      columnCorrelation: plainPots ? 0 : shape.columnCorrelation,
      spatialVariance,
      nugget,
    },
  };
}

/** Without any spatial variance every df is that of ordinary least squares. */
function plainYardstick(
  denominator: Denominator,
  curvature: Ar1Curvature,
  data: Ar1Data,
  total: number,
): { yardstick: Yardstick; covariance: Float64Array } {
  const { design } = data;
  const free = design.n - design.rank;
  const covariance = sandwich(design, curvature.phi);
  if (denominator === 'asymptotic') return { yardstick: { kind: 'asymptotic' }, covariance };
  if (denominator === 'containment') {
    const pots = { unit: 'pot', df: free };
    return {
      yardstick: { kind: 'containment', strata: Array(design.rank).fill(pots) },
      covariance,
    };
  }
  return {
    yardstick: {
      kind: denominator,
      derivatives: [covariance.map((value) => value / total)],
      uncertainty: Float64Array.of((2 * total * total) / free),
    },
    covariance,
  };
}
