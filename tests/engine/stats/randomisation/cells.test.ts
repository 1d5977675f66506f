import { expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import { buildDesign } from '../../../../renderer/engine/stats/design';
import {
  cellFits,
  combine,
  jointF,
  untreatedProjection,
} from '../../../../renderer/engine/stats/randomisation';
import { stream } from '../../../../renderer/engine/trial/stream';

it('fits another response to a layout as if from the start', () => {
  const random = stream('cells', 'pots');
  const rows = Array.from({ length: 20 }, () => ({ y: random.normal() }));
  // No pot has weak feed with coir, so that one column of the interaction repeats others.
  const feed = rows.map((_, i) => (i % 2 ? 'weak' : 'strong'));
  const medium = rows.map((_, i) => (i % 4 === 0 ? 'coir' : 'bark'));
  const request = fitRequestSchema.parse({ response: 'y', treatments: ['feed', 'medium'] });
  const table = { rowCount: 20, columns: { feed, medium, y: rows.map(({ y }) => y) } };
  const design = buildDesign(request, table);
  const v = new Float64Array(400);
  for (let i = 0; i < 20; i++) for (let j = 0; j <= i; j++) v[i * 20 + j] = 0.5 ** (i - j);
  const all = Int32Array.from(rows.keys());
  const covariance = { blocks: [{ rows: all, v, trends: [] }] };
  const fits = cellFits(design, untreatedProjection(design, covariance));
  const response = fits.without(Float64Array.from(fits.columns, (_, a) => a + 0.3));
  const cells = fits.observed.slice().reverse();
  const kept = () => {
    fits.fit(cells);
    return fits.fit(cells, response);
  };
  const [anew, again] = [fits.fit(cells.slice(), response), kept()];
  expect(again.solution.df).toBe(anew.solution.df);
  expect(again.ms).toBeCloseTo(anew.ms, 10);
  const weights = fits.columns.map((_, a) =>
    Float64Array.from(fits.columns, (__, b) => +(a === b)),
  );
  for (const w of weights) {
    const [one, other] = [combine(anew, w), combine(again, w)];
    expect(one === null).toBe(other === null);
    if (one && other) expect(other.estimate).toBeCloseTo(one.estimate, 10);
    expect(jointF(again, [w])).toBeCloseTo(jointF(anew, [w]), 8);
  }
});
