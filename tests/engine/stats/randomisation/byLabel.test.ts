import { expect, it } from 'vitest';
import { byLabel, sharedRows } from '../../../../renderer/engine/stats/randomisation/byLabel';

const row = (...values: number[]) => Float64Array.from(values);
const place = (...values: number[]) => Int32Array.from(values);

it('finds columns that depend on the label alone, and those that depend on the row, too', () => {
  const places = [
    [place(0), place(0)],
    [place(0, 1), place(0, 1)],
  ];
  const alike = {
    places,
    values: [
      [row(1), row(1)],
      [row(-1, 1), row(-1, 1)],
    ],
  };
  expect(sharedRows(alike)?.map(({ value }) => [...value])).toEqual([[1], [-1, 1]]);
  const covariate = {
    places,
    values: [
      [row(1), row(1)],
      [row(-1, 1), row(-1, 1.5)],
    ],
  };
  expect(sharedRows(covariate)).toBeNull();
  const elsewhere = { ...alike, places: [[place(0), place(1)], places[1] ?? []] };
  expect(sharedRows(elsewhere)).toBeNull();
});

it('makes of its short sums those that the rows would have added up to', () => {
  const places = [
    [place(0), place(0), place(0)],
    [place(0, 1), place(0, 1), place(0, 1)],
  ];
  const values = [
    [row(1), row(1), row(1)],
    [row(-1, 2), row(-1, 2), row(-1, 2)],
  ];
  const shared = sharedRows({ places, values });
  if (!shared) throw new Error('every row is alike');
  const [q, d] = [1, 2];
  const seen: number[][] = [];
  const whole = {
    size: d * d + q * d + d,
    addUnit: () => undefined,
    f: (sums: Float64Array) => seen.push([...sums]),
  };
  // Two units: the first holds two rows.
  const unitRows = [Int32Array.of(0, 1), Int32Array.of(2)];
  const left = row(3, 5, 7);
  const short = byLabel(whole, shared, { unitRows }, { left, basisRows: row(0.5, 0.25, 4), q, d });
  const sums = new Float64Array(short.size);
  short.addUnit(sums, 0, 0);
  short.addUnit(sums, 1, 1);
  short.f(sums);
  // Cross products (lower triangle), along the basis, with the response: by hand.
  expect(seen).toEqual([[1 + 1 + 1, 0, -2, 4, 0.75 - 4, 8, 3 + 5 - 7, 14]]);
});
