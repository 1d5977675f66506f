import { describe, expect, it } from 'vitest';
import { fit, layoutTests } from '../../../renderer/engine/stats/fit';
import { stream } from '../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../shared-types/fit';

/** Three shelves of three trays of 4 × 3 pots, feed by tray, cultivar by pot, some plants dead. */
function trial(seed: string, dead: number) {
  const random = stream(seed, 'layout');
  const rows = Array.from({ length: 108 }, (_, i) => ({
    tray: Math.floor(i / 12),
    row: Math.floor((i % 12) / 4) + 1,
    column: (i % 4) + 1,
    alive: random.fraction() >= dead,
    start: random.normal(),
  }));
  const table = (response: readonly number[]) => ({
    columns: {
      shelf: rows.map(({ tray }) => `s${Math.floor(tray / 3)}`),
      tray: rows.map(({ tray }) => `t${tray}`),
      row: rows.map(({ row }) => row),
      column: rows.map(({ column }) => column),
      feed: rows.map(({ tray }) => `f${(tray + Math.floor(tray / 3)) % 3}`),
      cultivar: rows.map((_, i) => `c${(i * 7 + Math.floor(i / 5)) % 4}`),
      start: rows.map(({ start }) => start),
      y: rows.map(({ alive }, i) => (alive ? (response[i] ?? 0) : null)),
    },
    rowCount: rows.length,
  });
  const response = (name: string, effect: number) => {
    const luck = stream(seed, name);
    const trays = Array.from({ length: 9 }, () => luck.normal());
    return rows.map(({ tray }, i) => (trays[tray] ?? 0) + luck.normal() + effect * (i % 2));
  };
  return { table, response };
}

const place = { row: 'row', column: 'column', within: ['tray'] };
const base = {
  response: 'y',
  treatments: ['feed', 'cultivar'],
  covariates: ['start'],
  fixedBlocks: ['shelf'],
  tests: 'marginal',
  denominator: 'units',
};

describe('tests prepared for a layout', () => {
  it.each([
    ['pots alone', { denominator: 'units' }],
    ['trays as units', { randomUnits: [['tray']] }],
    [
      'crossed units',
      { fixedBlocks: [], randomUnits: [['tray'], ['tray', 'row'], ['tray', 'column']] },
    ],
    ['type II tests', { randomUnits: [['tray']], tests: 'adjusted' }],
    ['type I tests', { randomUnits: [['tray']], tests: 'sequential' }],
    ['a plane', { randomUnits: [['tray']], position: { ...place, model: 'linear' } }],
    [
      'rows and columns',
      { randomUnits: [['tray']], position: { ...place, model: 'rows+columns' } },
    ],
    ['rows and columns without units', { position: { ...place, model: 'rows+columns' } }],
    ['a surface', { randomUnits: [['tray']], position: { ...place, model: 'smooth' } }],
    ['likelihood', { randomUnits: [['tray']], denominator: 'satterthwaite' }],
  ])('are those of a fit to each response: %s', (_, more) => {
    const request = fitRequestSchema.parse({ ...base, ...more });
    for (const dead of [0, 0.1]) {
      const { table, response } = trial('layout', dead);
      const responses = [response('one', 0), response('two', 0.8)];
      const { rowIndex, tests } = layoutTests(request, table(responses[0] ?? []), null);
      for (const one of responses) {
        const { terms } = fit(request, table(one), null);
        const y = Float64Array.from(rowIndex, (row) => one[row] ?? NaN);
        expect(tests.map(({ term }) => term)).toEqual(terms.map(({ term }) => term));
        tests.forEach(({ p }, i) => {
          const wanted = terms[i]?.p;
          if (wanted === null || wanted === undefined) expect(p(y)).toBeNull();
          else expect(p(y)).toBeCloseTo(wanted, 9);
        });
      }
    }
  });
});
