import { ar1Curvature } from './ar1-curvature';
import { gridOf, type Grid } from './ar1-grid';
import type { Ar1Data } from './ar1-point';
import { CLOSEST, type Ar1Limits } from './ar1-logistic';
import { ar1Optimum } from './ar1-search';
import { ar1SmallSample } from './ar1-small-sample';
import { containmentStrata } from './containment';
import { checkUnits, fitMixed, unitColumns } from './fit-mixed';
import { isPositive } from './cholesky';
import { dot } from './linalg';
import { orthogonalDesign, sandwich, solveR, type OrthogonalDesign } from './orthogonal';
import { waldModel, type Yardstick } from './wald';
import {
  explainedUnitWarning,
  singularWarning,
  uncorrectedWarning,
  unsettledWarning,
  zeroUnitWarning,
} from './words';
import type { Matrix } from '../model';
import { EXPLAINED, type Denominator, type MixedFit, type RandomUnit } from './types';

export interface Ar1Input {
  x: Matrix;
  y: Float64Array;
  /** Position of each pot along rows and columns, in steps of the grid. */
  row: Float64Array;
  column: Float64Array;
  /** Pots of different groups (trays, shelves) are not neighbours. */
  group: Int32Array;
  /** Units with a random effect of their own beside the likeness of neighbours. */
  random?: RandomUnit[];
  denominator: Denominator;
  /** False: all variation between pots is spatial. */
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

function checkInput({ x, y, row, column, group, random }: Ar1Input): void {
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
  checkUnits(random ?? [], x.rows);
}

/** Whether the fixed effects leave anything of the differences between a unit's levels. */
function isLeft(unit: RandomUnit, design: OrthogonalDesign): boolean {
  const { rows, count } = unitColumns(unit);
  let left = 0;
  for (let j = 0; j < count; j++) {
    design.turn(rows, j * design.n);
    const free = design.n - design.rank;
    const at = j * design.n + design.rank;
    left += dot(rows, at, rows, at, free);
  }
  return left > EXPLAINED * design.n;
}

function limitsOf(
  grid: Grid,
  nugget: boolean,
  random: readonly RandomUnit[],
  design: OrthogonalDesign,
): Ar1Limits {
  const one = (distances: Float64Array) => {
    const real = distances.filter((d) => d > 0 && d < Infinity);
    const free = real.length > 0;
    // Between whole steps a negative correlation has no meaning.
    return { free, least: free && real.every((d) => Number.isInteger(d)) ? -CLOSEST : 0 };
  };
  return {
    row: one(grid.rowDistances),
    column: one(grid.columnDistances),
    nugget,
    units: random.map((unit) => isLeft(unit, design)),
  };
}

/** The same without any likeness of neighbours. */
function withoutSpace(input: Ar1Input, random: RandomUnit[]): Ar1Fit {
  const { x, y, denominator } = input;
  const plain = fitMixed({ x, y, random, denominator });
  const nugget = plain.variance.at(-1)?.variance ?? 0;
  return {
    ...plain,
    variance: [
      ...plain.variance.slice(0, -1),
      { unit: 'spatial', variance: 0 },
      { unit: 'residual', variance: nugget },
    ],
    warnings: [
      'Neighbours are no more alike than any two pots; no spatial variance is left.',
      ...plain.warnings,
    ],
    spatial: { rowCorrelation: 0, columnCorrelation: 0, spatialVariance: 0, nugget },
  };
}

/**
 * Plants next to each other alike: V = s·ρ_row^|Δrow|·ρ_column^|Δcolumn| within a group, plus a
 * nugget g on the diagonal and a variance for each random unit, by REML (Cullis & Gleeson 1991,
 * Biometrics 47, 1449–1460). Parameters at an edge are said so in `warnings`. `variance` has the
 * units, then `spatial`, then the nugget as `residual`. Containment df take no notice of the
 * likeness of neighbours.
 */
export function fitAr1(input: Ar1Input): Ar1Fit {
  checkInput(input);
  const { x, y, denominator } = input;
  const random = input.random ?? [];
  const design = orthogonalDesign(x);
  const { n, rank } = design;
  const turned = y.slice();
  design.turn(turned, 0);
  if (!(dot(turned, rank, turned, rank, n - rank) > 1e-20 * dot(y, 0, y, 0, n))) {
    throw new Error(
      'autoregressive model: the fixed effects fit every row exactly; expected a response that ' +
        'varies beyond them',
    );
  }
  const grid = gridOf(input.row, input.column, input.group, random);
  const limits = limitsOf(grid, input.nugget ?? true, random, design);
  const free = [limits.row.free, limits.column.free, limits.nugget].filter(Boolean).length;
  const parameters = 1 + free + random.length;
  if (n - rank <= parameters) {
    throw new Error(
      `autoregressive model: ${n} rows and ${rank} coefficients leave ${n - rank} degrees of ` +
        `freedom for ${parameters} variance parameters; expected more`,
    );
  }
  const basis = new Float64Array(rank * n);
  for (let k = 0; k < rank; k++) {
    basis[k * n + k] = 1;
    design.turnBack(basis, k * n);
  }
  const data: Ar1Data = { grid, design, basis, y, last: null };
  const optimum = ar1Optimum(data, limits);
  if (limits.nugget) {
    const plain = withoutSpace(input, random);
    if (plain.logLik >= -optimum.point.value / 2 - 1e-8) {
      return { ...plain, aic: -2 * plain.logLik + 2 * (rank + parameters) };
    }
  }

  const { shape, total, value } = optimum.point;
  const warnings: string[] = [];
  random.forEach(({ unit }, k) => {
    if (limits.units[k] !== true) warnings.push(explainedUnitWarning(unit));
    else if (shape.unitRatios[k] === 0) warnings.push(zeroUnitWarning(unit, denominator));
  });
  if (limits.nugget && shape.nuggetShare === 0) {
    warnings.push('The nugget is estimated as zero: all variation between pots is spatial.');
  }
  let edge = false;
  for (const [name, rho, estimated] of [
    ['rows', shape.rowCorrelation, limits.row.free],
    ['columns', shape.columnCorrelation, limits.column.free],
  ] as const) {
    if (!estimated) {
      warnings.push(`There are no two ${name} in any group; their correlation is not estimated.`);
    } else if (Math.abs(rho) > 0.9999) {
      edge = true;
      warnings.push(
        `The correlation along ${name} is at the edge of what is possible; it and the spatial ` +
          'variance are rough.',
      );
    }
  }
  if (!optimum.settled && !edge) warnings.push(unsettledWarning);

  const smallSample = denominator === 'satterthwaite' || denominator === 'kenward-roger';
  const curvature = ar1Curvature(data, optimum.point, smallSample);
  const phi = sandwich(design, curvature.phi);
  let reference: { yardstick: Yardstick; covariance: Float64Array } = {
    yardstick:
      denominator === 'containment'
        ? { kind: denominator, strata: containmentStrata(x, design.kept, random) }
        : { kind: 'asymptotic' },
    covariance: phi,
  };
  if (smallSample) {
    const found = ar1SmallSample(denominator, curvature, optimum, design, limits);
    if (found === null) warnings.push(singularWarning);
    else if (isPositive(found.covariance, rank)) reference = found;
    else {
      reference = { ...found, covariance: phi };
      warnings.push(uncorrectedWarning);
    }
  }
  const model = waldModel({
    columns: x.columns,
    kept: design.kept,
    beta: solveR(design, curvature.beta, 1),
    phi,
    ...reference,
  });
  const nugget = total * shape.nuggetShare;
  const spatialVariance = total * (1 - shape.nuggetShare);
  const logLik = -value / 2;
  return {
    ...model,
    variance: [
      ...random.map(({ unit }, k) => ({ unit, variance: total * (shape.unitRatios[k] ?? 0) })),
      { unit: 'spatial', variance: spatialVariance },
      { unit: 'residual', variance: nugget },
    ],
    logLik,
    criterion: 'REML',
    aic: -2 * logLik + 2 * (rank + parameters),
    // y − gV⁻¹(y − Xβ): all but the part that is the pot's own.
    fitted: y.map((one, i) => one - nugget * (curvature.weighted[i] ?? 0)),
    warnings,
    spatial: {
      rowCorrelation: shape.rowCorrelation,
      columnCorrelation: shape.columnCorrelation,
      spatialVariance,
      nugget,
    },
  };
}
