const { atan, PI, sqrt } = Math;

/** B-3: an element to a parallel rectangle of a × b, c away, one corner of it straight above. */
export function elementToParallel(a: number, b: number, c: number): number {
  const [x, y] = [a / c, b / c];
  const [x1, y1] = [sqrt(1 + x * x), sqrt(1 + y * y)];
  return ((x / x1) * atan(y / x1) + (y / y1) * atan(x / y1)) / (2 * PI);
}

/**
 * B-4: an element to a rectangle at right angles to its plane, a high and b wide, c away, one corner of
 * its foot straight ahead.
 */
export function elementToUpright(a: number, b: number, c: number): number {
  const [x, y] = [a / b, c / b];
  const both = sqrt(x * x + y * y);
  return (atan(1 / y) - (y / both) * atan(1 / both)) / (2 * PI);
}
