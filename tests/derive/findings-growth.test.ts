import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { datesOf, growthBetween, growthByTreatment } from '../../renderer/derive';
import { readPlan } from '../../renderer/document/open';

const url = new URL('../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok) throw new Error('the demo opens');
const { plan } = read;

describe('growth of the treatments between two dates', () => {
  const growth = growthByTreatment(plan, 'm62');

  it('is that of plants measured at both, dead ones left out', () => {
    expect(growth?.days).toBe(35);
    expect(growth?.rows).toHaveLength(12);
    const pots = growth?.rows.reduce((sum, row) => sum + row.pots, 0);
    const dead = Object.keys(plan.records.marks).length;
    expect(pots).toBe(216 - dead);
  });

  it('has the mean of the plants’ own rates: (ln W₂ − ln W₁) / days, Hunt 1982', () => {
    const [row] = growth?.rows ?? [];
    const { m60 = {}, m62 = {} } = plan.records.values;
    const key = row?.key ?? '';
    const own = (plan.layout?.assignments ?? []).filter(
      (a) => key.includes(a.levels['f50'] ?? '-') && key.includes(a.levels['f54'] ?? '-'),
    );
    const rates = own.flatMap(({ potId }) => {
      const [from, to] = [m60[potId], m62[potId]];
      return from === undefined || to === undefined || plan.records.marks[potId]
        ? []
        : [Math.log(to / from) / 35];
    });
    expect(rates).toHaveLength(row?.pots ?? -1);
    const mean = rates.reduce((sum, r) => sum + r, 0) / rates.length;
    expect(row?.rate?.value).toBeCloseTo(mean, 12);
  });

  it('runs forward in time only', () => {
    expect(growthBetween(plan, 'm62', 'm60')).toBeNull();
    expect(growthBetween(plan, 'm60', 'm60')).toBeNull();
    const harvest = plan.trial?.measurements.find((m) => m.id === 'm62');
    expect(harvest && datesOf(plan, harvest).map((m) => m.id)).toEqual(['m60', 'm62']);
  });
});
