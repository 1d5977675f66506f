import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsInputOf } from '../../../renderer/derive';
import { readPlan } from '../../../renderer/document/open';
import { growthSeries, type FindingsInput } from '../../../renderer/engine/findings';
import type { DataTable } from '../../../shared-types/fit';
import { fitRequestSchema } from '../../../shared-types/fit';
import { fit } from '../../../renderer/engine/stats/fit';

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok) throw new Error('the demo opens');
const demo = findingsInputOf(read.plan);
if (!demo) throw new Error('the demo has a trial');

/** Cultivar alone, by pot, and no blocks: the plainest repeated measures. */
function plain(input: FindingsInput): FindingsInput {
  const factors = input.trial.factors.filter((f) => f.name === 'cultivar');
  const layout = input.layout && {
    ...input.layout,
    assignments: input.layout.assignments.map((a) => ({ ...a, block: 'all' })),
  };
  return { ...input, layout, trial: { ...input.trial, factors } };
}

const harvest = demo.trial.measurements.find((m) => m.id === 'm62');
if (!harvest) throw new Error('the demo has a harvest');

describe('growth over time with the pot as unit', () => {
  const input = plain(demo);
  const marked = new Set(Object.keys(input.records.marks));
  const ids = Object.keys(input.records.values['m62'] ?? {}).filter((id) => !marked.has(id));
  // Pots with both weights only, so that the two routes see the same plants.
  const both = (m: string) =>
    Object.fromEntries(ids.map((id) => [id, input.records.values[m]?.[id] ?? Number.NaN]));
  const complete = {
    ...input,
    records: { ...input.records, values: { m60: both('m60'), m62: both('m62') } },
  };
  const series = growthSeries(complete, harvest, 0.95);

  // With two dates and every plant at both, the interaction with time is the one-way analysis of
  // the plants' own gains: an identity of the split plot in time.
  it('judges unequal growth by the plants’ own growth rates', () => {
    const levelOf = new Map(
      complete.layout?.assignments.map((a) => [a.potId, a.levels['f54'] ?? '']),
    );
    const table: DataTable = {
      rowCount: ids.length,
      columns: {
        cultivar: ids.map((id) => levelOf.get(id) ?? null),
        gain: ids.map((id) =>
          Math.log(
            (complete.records.values['m62']?.[id] ?? 1) /
              (complete.records.values['m60']?.[id] ?? 1),
          ),
        ),
      },
    };
    const oneWay = fit(
      fitRequestSchema.parse({ response: 'gain', treatments: ['cultivar'] }),
      table,
    );
    const term = series?.terms.find((t) => t.term === 'cultivar × day');
    expect(term?.statistic).toBeCloseTo(oneWay.terms[0]?.statistic ?? Number.NaN, 6);
    expect(term?.dfError).toBeCloseTo(oneWay.terms[0]?.dfError ?? Number.NaN, 4);
  });

  it('draws a curve a treatment through the means of the logarithms', () => {
    expect(series?.logarithms).toBe(true);
    expect(series?.dates.map((d) => d.day)).toEqual([0, 35]);
    expect(series?.curves).toHaveLength(4);
    const [curve] = series?.curves ?? [];
    const own = complete.layout?.assignments.filter((a) => a.levels['f54'] === 'v55') ?? [];
    const logs = own.flatMap(({ potId }) => {
      const value = complete.records.values['m62']?.[potId];
      return value === undefined ? [] : [Math.log(value)];
    });
    const mean = Math.exp(logs.reduce((sum, v) => sum + v, 0) / logs.length);
    expect(curve?.points[1]?.mean).toBeCloseTo(mean, 6);
    expect(curve?.points[1]?.lower).toBeLessThan(mean);
    expect(curve?.points[1]?.upper).toBeGreaterThan(mean);
  });

  it('judges a treatment of whole trays by trays, over time as well', () => {
    const whole = growthSeries(demo, harvest, 0.95);
    const term = whole?.terms.find((t) => t.term === 'feed × day');
    // Nine trays, three feeds: no more than six trays' worth of error.
    expect(term?.dfError).toBeLessThan(7);
  });

  it('is null with one date', () => {
    const once = { ...demo, records: { ...demo.records, values: { m62: both('m62') } } };
    expect(growthSeries(once, harvest, 0.95)).toBeNull();
  });
});
