import { dotRange, selfProduct } from './linalg';
import type { OrthogonalDesign } from './orthogonal';
import { Refusal } from '../../../words';

/** The design columns of one variance component, each held as a row of length n. */
export interface RandomColumns {
  name: string;
  count: number;
  rows: Float64Array;
}

/**
 * All that REML needs of the data y = Xβ + Σ Z_k u_k + e, u_k ~ N(0, σ²γ_k I), e ~ N(0, σ²I).
 * With Q an orthonormal basis of X and K one of its complement:
 * `m` = ZᵀKKᵀZ, `b` = ZᵀKKᵀy, `yy` = yᵀKKᵀy, `t` = QᵀZ, `qy` = Qᵀy. The dimension is that of the
 * random effects, whatever the number of pots.
 */
export interface Reduced {
  readonly design: OrthogonalDesign;
  /** n − rank(X). */
  readonly free: number;
  /** All random columns together. */
  readonly q: number;
  /** First column and number of columns of each component. */
  readonly parts: readonly { name: string; start: number; count: number }[];
  readonly m: Float64Array;
  readonly b: Float64Array;
  readonly yy: number;
  readonly t: Float64Array;
  readonly qy: Float64Array;
  /** ΣZ_k², per component, to see what is left of it once X is out. */
  readonly size: Float64Array;
}

/** What of `Reduced` rests on the layout alone. */
export interface ReducedLayout extends Omit<Reduced, 'b' | 'yy' | 'qy'> {
  /** KᵀZ, each column a row of length `free`. */
  readonly inner: Float64Array;
}

/** Condenses the layout; throws where nothing is left to estimate a variance from. */
export function reduceLayout(
  design: OrthogonalDesign,
  components: readonly RandomColumns[],
): ReducedLayout {
  const { n, rank } = design;
  const free = n - rank;
  if (free < 1) {
    throw new Refusal(
      `mixed model: ${n} rows and ${rank} coefficients leave nothing to estimate a variance ` +
        'from; expected more rows than coefficients',
    );
  }
  const q = components.reduce((sum, c) => sum + c.count, 0);
  const t = new Float64Array(rank * q);
  const inner = new Float64Array(q * free);
  const size = new Float64Array(components.length);
  const parts: { name: string; start: number; count: number }[] = [];
  let at = 0;
  components.forEach((component, k) => {
    parts.push({ name: component.name, start: at, count: component.count });
    const turned = component.rows.slice();
    size[k] = dotRange(turned, 0, turned, 0, turned.length);
    for (let j = 0; j < component.count; j++) {
      design.turn(turned, j * n);
      for (let i = 0; i < rank; i++) t[i * q + at] = turned[j * n + i] ?? 0;
      inner.set(turned.subarray(j * n + rank, (j + 1) * n), at * free);
      at++;
    }
  });
  return { design, free, q, parts, m: selfProduct(inner, q, free), t, size, inner };
}

/** Adds a response; throws where the fixed effects leave nothing of it. */
export function reduceResponse(layout: ReducedLayout, y: Float64Array): Reduced {
  const { design, free, q, inner } = layout;
  const { n, rank } = design;
  const turnedY = y.slice();
  design.turn(turnedY, 0);
  const rest = turnedY.subarray(rank);
  const yy = dotRange(rest, 0, rest, 0, free);
  if (!(yy > 1e-20 * dotRange(y, 0, y, 0, n))) {
    throw new Refusal(
      'mixed model: the fixed effects fit every row exactly; expected a response that varies ' +
        'beyond them',
    );
  }
  const b = new Float64Array(q);
  for (let j = 0; j < q; j++) b[j] = dotRange(inner, j * free, rest, 0, free);
  return { ...layout, b, yy, qy: turnedY.slice(0, rank) };
}
