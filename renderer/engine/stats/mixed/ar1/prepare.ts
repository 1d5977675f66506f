import { positionGridOf, type PositionGrid } from './grid';
import { CLOSEST, type Ar1Limits } from './logistic';
import type { Ar1Data } from './point';
import { checkUnits, unitColumns } from '../fitMixed';
import { addScaled, dotRange } from '../linalg';
import { denseColumn } from '../../linear';
import { localBasis } from '../localBasis';
import { orthogonalDesign, type OrthogonalDesign } from '../orthogonal';
import type { Matrix } from '../../model';
import { EXPLAINED, type Denominator, type RandomUnit } from '../types';
import { Refusal } from '../../../../words';
import { real } from '../../../entry';

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

function checkInput({ x, y, row, column, group, random }: Ar1Input): void {
  for (const [name, values] of Object.entries({ response: y, row, column, group })) {
    if (values.length !== x.rows) {
      throw new Refusal(
        `autoregressive model: ${values.length} values of ${name}; expected ${x.rows}, one a row`,
      );
    }
    const bad = values.findIndex((value) => !Number.isFinite(value));
    if (bad >= 0) {
      throw new Refusal(
        `autoregressive model: ${name} in row ${bad + 1} is ${values[bad]}; expected a number`,
      );
    }
  }
  checkUnits(random ?? [], x.rows);
}

/** Whether the fixed effects leave anything of the differences between a unit's levels. */
function isLeft(unit: RandomUnit, design: OrthogonalDesign): boolean {
  let left = 0;
  for (const column of unitColumns(unit).columns) {
    const turned = denseColumn(column, design.n);
    design.turn(turned, 0);
    const { rank, n } = design;
    left += dotRange(turned, rank, turned, rank, n - rank);
  }
  return left > EXPLAINED * design.n;
}

function limitsOf(
  grid: PositionGrid,
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

/**
 * An orthonormal basis of X, `rank` rows of length n, with as many as can be zero outside one block; the
 * design goes from coordinates in it to coefficients.
 */
function basisOf(
  x: Matrix,
  design: OrthogonalDesign,
  { blocks }: PositionGrid,
): Pick<Ar1Data, 'basis' | 'active' | 'design'> {
  const { n, rank } = design;
  const groups = blocks.map(({ rows }) => rows);
  const { inside, across } = localBasis(x, design, groups);
  const basis = new Float64Array(rank * n);
  const active = groups.map((): number[] => []);
  let at = 0;
  inside.forEach((columns, g) => {
    for (const column of columns) {
      groups[g]?.forEach((row, i) => (basis[at * n + row] = real(column, i)));
      active[g]?.push(at++);
    }
  });
  for (const column of across) {
    basis.set(column, at * n);
    for (const own of active) own.push(at);
    at++;
  }
  // Coordinates of the basis in that of the design.
  const turned = basis.slice();
  for (let k = 0; k < rank; k++) design.turn(turned, k * n);
  const solve = (b: Float64Array): Float64Array => {
    const own = new Float64Array(rank);
    for (let k = 0; k < rank; k++) addScaled(own, 0, real(b, k), turned, k * n, rank);
    return design.solve(own);
  };
  return {
    basis,
    active: active.map((own) => Int32Array.from(own)),
    design: { ...design, solve },
  };
}

/** The data with what of the model can be estimated from them. */
export interface PreparedAr1 {
  data: Ar1Data;
  limits: Ar1Limits;
  /** How many parameters of V there are. */
  parameters: number;
}

/** Throws where the input does not fit together or leaves nothing to estimate V from. */
export function prepareAr1(input: Ar1Input): PreparedAr1 {
  checkInput(input);
  const { x, y, random = [] } = input;
  const design = orthogonalDesign(x);
  const { n, rank } = design;
  const turned = y.slice();
  design.turn(turned, 0);
  if (!(dotRange(turned, rank, turned, rank, n - rank) > 1e-20 * dotRange(y, 0, y, 0, n))) {
    throw new Refusal(
      'autoregressive model: the fixed effects fit every row exactly; expected a response that ' +
        'varies beyond them',
    );
  }
  const grid = positionGridOf(input.row, input.column, input.group, random);
  const limits = limitsOf(grid, input.nugget ?? true, random, design);
  const free = [limits.row.free, limits.column.free, limits.nugget].filter(Boolean).length;
  const parameters = 1 + free + random.length;
  if (n - rank <= parameters) {
    throw new Refusal(
      `autoregressive model: ${n} rows and ${rank} coefficients leave ${n - rank} degrees of ` +
        `freedom for ${parameters} variance parameters; expected more`,
    );
  }
  const spanned = basisOf(x, design, grid);
  return { data: { ...spanned, grid, y, last: null }, limits, parameters };
}
