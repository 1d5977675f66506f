import type { Matrix } from '../model';
import { householder, type Qr } from './householder';
import { localParts, partedQr } from './partedQr';

/** Householder QR of a matrix whose columns keep their order; see `Qr`. */
export function factorise(x: Matrix, spanned?: number): Qr {
  const parts = localParts(x);
  return parts ? partedQr(x, parts, spanned) : householder(x, spanned);
}

const known = new WeakMap<Matrix, Qr>();

/** The factors of a matrix that is asked for by many and changed by nobody, such as a design's. */
export function spaceOf(x: Matrix): Qr {
  const made = known.get(x) ?? factorise(x);
  known.set(x, made);
  return made;
}
