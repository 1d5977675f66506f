import { EigenvalueDecomposition, Matrix as Dense } from 'ml-matrix';
import { dot, type SparseColumn } from '../../linear';
import { orthogonalDesign } from '../orthogonal';
import type { RandomColumns } from '../columnBlocks';
import { curvatureColumns } from './splineBasis';
import { real } from '../../../entry';

/** Segments along one direction at most; and random columns in all that are worth their time. */
const MOST_SEGMENTS = 10;
const FEWEST_SEGMENTS = 2;
const MOST_COLUMNS = 300;

export interface Surface {
  /** Planes: per group row trend, column trend and twist, each with mean 0 in its group. */
  trends: SparseColumn[];
  /** Departures from the planes: along rows, along columns, and both. */
  curvatures: RandomColumns[];
}

interface Axis {
  /** Standardised position, mean 0 and mean square 1 in the group; zeros where all are equal. */
  standard: Float64Array;
  curves: Float64Array[];
}

const mean = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function axisOf(positions: Float64Array, spacing: number): Axis {
  const n = positions.length;
  const centre = mean(positions);
  const least = Math.min(...positions);
  const range = Math.max(...positions) - least;
  const spread = Math.sqrt(mean(positions.map((value) => (value - centre) ** 2)));
  if (!(spread > 0)) return { standard: new Float64Array(n), curves: [] };
  const standard = positions.map((value) => (value - centre) / spread);
  const different = new Set(positions).size;
  if (different < 3) return { standard, curves: [] };
  const segments = Math.max(1, Math.ceil(range / spacing - 1e-9));
  const flat = curvatureColumns(
    positions.map((value) => (value - least) / spacing),
    segments,
  );
  const curves = Array.from({ length: flat.length / n }, (_, k) => flat.slice(k * n, (k + 1) * n));
  return { standard, curves };
}

const times = (a: Float64Array, b: Float64Array): Float64Array =>
  a.map((value, i) => value * real(b, i));

/** Takes the plane out of columns of one group, and as few columns as span the same covariance. */
function beyondPlane(columns: readonly Float64Array[], plane: readonly Float64Array[]) {
  const n = plane[0]?.length ?? 0;
  const data = new Float64Array(n * plane.length);
  plane.forEach((column, j) => {
    column.forEach((value, i) => {
      data[i * plane.length + j] = value;
    });
  });
  const design = orthogonalDesign({ rows: n, columns: plane.length, data });
  const left = n - design.rank;
  const cleaned = columns.map((column) => {
    const out = column.slice();
    design.turn(out, 0);
    out.fill(0, 0, design.rank);
    design.turnBack(out, 0);
    return out;
  });
  if (cleaned.length <= left) return cleaned;
  const covariance = new Dense(n, n);
  for (const column of cleaned) {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        covariance.set(i, j, covariance.get(i, j) + real(column, i) * real(column, j));
      }
    }
  }
  const eigen = new EigenvalueDecomposition(covariance, { assumeSymmetric: true });
  return eigen.realEigenvalues
    .map((value, k) => ({ value, k }))
    .sort((a, b) => b.value - a.value)
    .slice(0, left)
    .filter(({ value }, _, all) => value > 1e-12 * (all[0]?.value ?? 0))
    .map(({ value, k }) =>
      Float64Array.from(
        { length: n },
        (_, i) => Math.sqrt(value) * eigen.eigenvectorMatrix.get(i, k),
      ),
    );
}

interface GroupSurface {
  trends: Float64Array[];
  curvatures: Float64Array[][];
}

/** Of pots in such rows and columns. */
function groupSurface(
  row: Float64Array,
  column: Float64Array,
  rowSpacing: number,
  columnSpacing: number,
): GroupSurface {
  const down = axisOf(row, rowSpacing);
  const across = axisOf(column, columnSpacing);
  const twist = times(down.standard, across.standard);
  const middle = mean(twist);
  const trends = [down.standard, across.standard, twist.map((value) => value - middle)];
  const plane = [new Float64Array(row.length).fill(1), ...trends];
  const ridge = (curves: Float64Array[], other: Float64Array): Float64Array[] => [
    ...curves,
    ...curves.map((curve) => times(curve, other)),
  ];
  return {
    trends,
    curvatures: [
      beyondPlane(ridge(down.curves, across.standard), plane),
      beyondPlane(ridge(across.curves, down.standard), plane),
      beyondPlane(
        down.curves.flatMap((a) => across.curves.map((b) => times(a, b))),
        plane,
      ),
    ],
  };
}

/**
 * A smooth surface in each group as a mixed model: the tensor product of penalised cubic splines
 * along rows and columns, split as Wood, Scheipl & Faraway (2013), Statistics and Computing 23,
 * 341–360. The unpenalised part {1, r} ⊗ {1, c} gives fixed trends (the constant is left to the
 * design); the rest are three sets of independent effects with a variance each:
 *
 * - row curvature: Z_r ⊗ {1, c}, a curve along rows and its change across columns;
 * - column curvature: {1, r} ⊗ Z_c;
 * - joint curvature: Z_r ⊗ Z_c.
 *
 * r and c have mean 0 and mean square 1 in a group. The trends' span is taken out of every Z, so
 * the effects are what departs from a plane, and each Z is scaled so that its variance is the mean
 * variance it gives to a pot. Knots are equally far apart in all groups: at most one segment
 * between neighbouring positions, at most ten, and fewer where there are many groups.
 */
export function surfaceOf(row: Float64Array, column: Float64Array, group: Int32Array): Surface {
  const n = row.length;
  const groups = groupSurfaces(row, column, membersOf(group)).map(
    ({ rows, trends, curvatures }) => {
      const over = (values: Float64Array): SparseColumn => ({ rows, values });
      return {
        trends: trends.map(over),
        curvatures: curvatures.map((columns) => columns.map(over)),
      };
    },
  );
  return {
    trends: groups.flatMap((g) => g.trends),
    curvatures: ['row curvature', 'column curvature', 'joint curvature'].flatMap((name, k) => {
      const columns = groups.flatMap((g) => g.curvatures[k] ?? []);
      return scaledColumns(name, columns, n);
    }),
  };
}

/** The rows of each group, groups in the order in which they come. */
function membersOf(group: Int32Array): Int32Array[] {
  const members = new Map<number, number[]>();
  group.forEach((g, i) => {
    const list = members.get(g);
    if (list) list.push(i);
    else members.set(g, [i]);
  });
  return [...members.values()].map((list) => Int32Array.from(list));
}

/** How far knots are apart in all groups, with `most` segments at most. */
function spacing(positions: Float64Array, lists: readonly Int32Array[], most: number): number {
  let range = 0;
  let steps = 1;
  for (const rows of lists) {
    const own = Array.from(rows, (i) => real(positions, i));
    range = Math.max(range, Math.max(...own) - Math.min(...own));
    steps = Math.max(steps, new Set(own).size - 1);
  }
  return range / Math.min(steps, most);
}

/** With as many segments as leave the random columns worth their time. */
function groupSurfaces(
  row: Float64Array,
  column: Float64Array,
  lists: readonly Int32Array[],
): (GroupSurface & { rows: Int32Array })[] {
  // Trays are often alike: what rests on the places in a group alone is made once for all such.
  const places = lists.map((rows) => {
    const own = [row, column].map((values) => Float64Array.from(rows, (i) => real(values, i)));
    return { rows, own, key: own.map((values) => values.join(' ')).join('\n') };
  });
  let groups: (GroupSurface & { rows: Int32Array })[] = [];
  for (let most = MOST_SEGMENTS; most >= FEWEST_SEGMENTS; most--) {
    const down = spacing(row, lists, most);
    const across = spacing(column, lists, most);
    const known = new Map<string, GroupSurface>();
    groups = places.map(({ rows, own: [ownRow = row, ownColumn = column], key }) => {
      const made = known.get(key) ?? groupSurface(ownRow, ownColumn, down, across);
      known.set(key, made);
      return { ...made, rows };
    });
    const count = groups.reduce((sum, g) => sum + g.curvatures.flat().length, 0);
    if (count <= MOST_COLUMNS) break;
  }
  return groups;
}

/** Columns as one component whose variance is the mean variance it gives to each of n pots. */
function scaledColumns(name: string, columns: readonly SparseColumn[], n: number): RandomColumns[] {
  const size = columns.reduce((sum, { values }) => sum + dot(values, values), 0);
  if (!(size > 0)) return [];
  const scale = Math.sqrt(n / size);
  // Groups that are alike hold the same lists before and after.
  const known = new Map<Float64Array, Float64Array>();
  const scaled = columns.map(({ rows, values }) => {
    const made = known.get(values) ?? values.map((value) => value * scale);
    known.set(values, made);
    return { rows, values: made };
  });
  return [{ name, columns: scaled }];
}
