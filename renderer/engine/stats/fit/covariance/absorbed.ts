import type { DataTable, FitRequest } from '../../../../../shared-types/fit';
import { combineColumns, randomUnits } from '../../design';
import { addSparse, factorise, spaceOf, type SparseColumn } from '../../linear';
import { choleskyInPlace, inverseOf, solveLowerRows } from '../../mixed/cholesky';
import { selfProduct, timesTransposed, transposed } from '../../mixed/linalg';
import { unitColumns } from '../../mixed/fitMixed';
import type { RandomColumns } from '../../mixed/columnBlocks';
import { surfaceOf } from '../../mixed/place/surface';
import type { Matrix } from '../../model';
import { readNumbers } from '../../table';
import type { Analysis } from '../analysis';
import { real } from '../../../entry';

/** More rows than this are not worth the time that a dense matrix takes. */
const MOST_ROWS = 1200;

/** Random columns, each of length n, one after another, with the variance they share. */
interface Effects {
  readonly count: number;
  readonly rows: Float64Array;
  readonly variance: number;
}

/**
 * Covariance of the residuals under the fitted model, up to a factor: what fixed terms, units and
 * position model have absorbed is no longer in them. Least squares: M = I − X(XᵀX)⁻Xᵀ. With
 * variances taken as known the residuals that units and position leave are in proportion to Py, whose
 * covariance is P = V⁻¹ − V⁻¹X(XᵀV⁻¹X)⁻XᵀV⁻¹. null for counts and large tables.
 */
export function residualCovariance(
  request: FitRequest,
  table: DataTable,
  analysis: Analysis,
): Float64Array | null {
  const { x, rowIndex } = analysis.design;
  const n = x.rows;
  if (request.counts !== null || n > MOST_ROWS) return null;
  const { position } = request;
  const units = randomUnits(request, table, rowIndex);
  const asFixed = request.exactStrata || analysis.criterion !== 'REML';
  const dense = ({ columns }: Pick<RandomColumns, 'columns'>): Omit<Effects, 'variance'> => ({
    count: columns.length,
    rows: oneAfterAnother(columns, n),
  });
  if (asFixed) return leftOf(x, units.map(unitColumns).map(dense));
  const share = (name: string): number =>
    analysis.variance.find(({ unit }) => unit === name)?.variance ?? 0;
  const effects: Effects[] = units.map((unit) => ({
    ...dense(unitColumns(unit)),
    variance: share(unit.unit),
  }));
  const place = () => ({
    row: readNumbers(table, position?.row ?? '', rowIndex, 'row'),
    column: readNumbers(table, position?.column ?? '', rowIndex, 'column'),
    group: combineColumns(table, position?.within ?? [], rowIndex).codes,
  });
  const apart = (trends: Parameters<typeof leftOf>[1]) =>
    withoutEffects(leftOf(x, trends), n, effects, share('residual'));
  if (position === null) return apart([]);
  const { model } = position;
  switch (model) {
    case 'edge':
    case 'linear':
    case 'rows+columns':
      return apart([]);
    case 'smooth': {
      const { row, column, group } = place();
      const surface = surfaceOf(row, column, group);
      effects.push(
        ...surface.curvatures.map((part) => ({ ...dense(part), variance: share(part.name) })),
      );
      return apart([dense({ columns: surface.trends })]);
    }
    case 'ar1':
      return analysis.spatial ? ofNeighbours(x, effects, place(), analysis.spatial) : apart([]);
    default:
      return model satisfies never;
  }
}

function oneAfterAnother(columns: readonly SparseColumn[], n: number): Float64Array {
  const rows = new Float64Array(columns.length * n);
  columns.forEach((column, k) => addSparse(rows, k * n, 1, column));
  return rows;
}

/** I − the projection on the design and further columns. */
function leftOf(
  x: Matrix,
  further: readonly { readonly count: number; readonly rows: Float64Array }[],
): Float64Array {
  const n = x.rows;
  const columns = further.reduce((sum, { count }) => sum + count, x.columns);
  const data = new Float64Array(n * columns);
  for (let i = 0; i < n; i++) {
    data.set(x.data.subarray(i * x.columns, (i + 1) * x.columns), i * columns);
    let at = i * columns + x.columns;
    for (const { count, rows } of further) {
      for (let k = 0; k < count; k++) data[at++] = real(rows, k * n + i);
    }
  }
  const qr = factorise({ rows: n, columns, data });
  const free = n - qr.rank;
  const basis = new Float64Array(n * free);
  for (let k = 0; k < free; k++) {
    const direction = new Float64Array(n);
    direction[qr.rank + k] = 1;
    qr.applyQ(direction);
    for (let i = 0; i < n; i++) basis[i * free + k] = real(direction, i);
  }
  return selfProduct(basis, n, free);
}

/** σ²P = M − MU(I + UᵀMU)⁻¹UᵀM, with U the random columns times the root of their variance ratio. */
function withoutEffects(
  m: Float64Array,
  n: number,
  effects: readonly Effects[],
  residual: number,
): Float64Array {
  const active = effects.filter(({ variance }) => variance > 0);
  const a = active.reduce((sum, { count }) => sum + count, 0);
  if (a === 0 || !(residual > 0)) return m;
  const u = new Float64Array(a * n);
  let at = 0;
  for (const { count, rows, variance } of active) {
    const root = Math.sqrt(variance / residual);
    for (let k = 0; k < count * n; k++) u[at++] = root * real(rows, k);
  }
  const mu = timesTransposed(m, n, u, a, n);
  const inner = timesTransposed(u, a, transposed(mu, n, a), a, n);
  for (let k = 0; k < a; k++) inner[k * a + k] = real(inner, k * a + k) + 1;
  if (!choleskyInPlace(inner, a)) return m;
  solveLowerRows(inner, a, mu, n);
  const taken = selfProduct(mu, n, a);
  return m.map((value, i) => value - real(taken, i));
}

function ofNeighbours(
  x: Matrix,
  effects: readonly Effects[],
  { row, column, group }: { row: Float64Array; column: Float64Array; group: Int32Array },
  spatial: NonNullable<Analysis['spatial']>,
): Float64Array | null {
  const n = x.rows;
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      if (group[i] !== group[j]) continue;
      v[i * n + j] =
        spatial.spatialVariance *
        spatial.rowCorrelation ** Math.abs(real(row, i) - real(row, j)) *
        spatial.columnCorrelation ** Math.abs(real(column, i) - real(column, j));
    }
    v[i * n + i] = real(v, i * n + i) + spatial.nugget;
  }
  for (const { count, rows, variance } of effects) {
    if (!(variance > 0)) continue;
    const shared = selfProduct(transposed(rows, count, n), n, count);
    for (let k = 0; k < v.length; k++) v[k] = real(v, k) + variance * real(shared, k);
  }
  const inverse = inverseOf(v, n);
  if (inverse === null) return null;
  const { kept, rank } = spaceOf(x);
  const columns = new Float64Array(rank * n);
  kept.forEach((j, k) => {
    for (let i = 0; i < n; i++) columns[k * n + i] = real(x.data, i * x.columns + j);
  });
  const vx = timesTransposed(inverse, n, columns, rank, n);
  const information = timesTransposed(columns, rank, transposed(vx, n, rank), rank, n);
  if (!choleskyInPlace(information, rank)) return null;
  solveLowerRows(information, rank, vx, n);
  const taken = selfProduct(vx, n, rank);
  return inverse.map((value, i) => value - real(taken, i));
}
