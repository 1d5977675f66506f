import { positionGridOf, type PositionGrid } from './grid';
import { CLOSEST, type Ar1Limits } from './logistic';
import type { Ar1Data } from './point';
import { checkUnits, unitColumns } from '../fitMixed';
import { dotRange } from '../linalg';
import { orthogonalDesign, type OrthogonalDesign } from '../orthogonal';
import type { Matrix } from '../../model';
import { EXPLAINED, type Denominator, type RandomUnit } from '../types';
import { Refusal } from '../../../../words';

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
  const { rows, count } = unitColumns(unit);
  let left = 0;
  for (let j = 0; j < count; j++) {
    design.turn(rows, j * design.n);
    const free = design.n - design.rank;
    const at = j * design.n + design.rank;
    left += dotRange(rows, at, rows, at, free);
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

/** An orthonormal basis of X, `rank` rows of length n. */
function basisOf(design: OrthogonalDesign): Float64Array {
  const { n, rank } = design;
  const basis = new Float64Array(rank * n);
  for (let k = 0; k < rank; k++) {
    basis[k * n + k] = 1;
    design.turnBack(basis, k * n);
  }
  return basis;
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
  return { data: { grid, design, basis: basisOf(design), y, last: null }, limits, parameters };
}
