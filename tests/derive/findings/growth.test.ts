import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { datesOf, growthBetween, growthByTreatment } from '../../../renderer/derive';
import { readPlan } from '../../../renderer/document/open';

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
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

describe('growth with a date in between', () => {
  const trial = plan.trial;
  const first = trial?.measurements.find((m) => m.id === 'm60');
  if (!trial || !first) throw new Error('the demo has a weighing at the start');
  const { m60 = {}, m62 = {} } = plan.records.values;
  // A plant that grows at one rate throughout has the square root of its growth at half time.
  const halfway = Object.fromEntries(
    Object.entries(m62).map(([id, end], i) => [
      id,
      Math.sqrt(end * (m60[id] ?? 1)) * (1 + 0.1 * Math.sin(i)),
    ]),
  );
  const interim = { ...first, id: 'm900', timepoint: 'interim' as const, date: '2026-03-20' };
  const longer = {
    ...plan,
    trial: { ...trial, measurements: [...trial.measurements, interim] },
    records: { ...plan.records, values: { ...plan.records.values, m900: halfway } },
  };

  it('is to be had between any two of the dates', () => {
    expect(datesOf(longer, first).map((m) => m.id)).toEqual(['m60', 'm900', 'm62']);
    expect(growthBetween(longer, 'm60', 'm900')?.days).toBe(18);
    expect(growthBetween(longer, 'm900', 'm62')?.days).toBe(17);
  });

  // Hunt 1982: (ln W₂ − ln W₁) / T, (W₂ − W₁) / T, 100 (W₂ / W₁ − 1); so gains and logarithms of the
  // parts add up to those of the whole.
  it('has parts that make up the whole', () => {
    const rows = (from: string, to: string) => growthBetween(longer, from, to)?.rows ?? [];
    const [early, late, whole] = [rows('m60', 'm900'), rows('m900', 'm62'), rows('m60', 'm62')];
    expect(whole).toHaveLength(12);
    whole.forEach((row, i) => {
      const [a, b] = [early[i], late[i]];
      const gain = (a?.gainPerDay ?? 0) * 18 + (b?.gainPerDay ?? 0) * 17;
      expect(gain).toBeCloseTo(row.gainPerDay * 35, 9);
      const logs = (a?.rate?.value ?? 0) * 18 + (b?.rate?.value ?? 0) * 17;
      expect(logs).toBeCloseTo((row.rate?.value ?? 0) * 35, 9);
    });
  });

  it('gives the mean of the plants’ own gains in per cent', () => {
    const [row] = growthBetween(longer, 'm60', 'm62')?.rows ?? [];
    const key = row?.key ?? '';
    const own = (plan.layout?.assignments ?? []).filter(
      (a) =>
        key.includes(a.levels['f50'] ?? '-') &&
        key.includes(a.levels['f54'] ?? '-') &&
        !plan.records.marks[a.potId],
    );
    const gains = own.map(({ potId }) => 100 * ((m62[potId] ?? 0) / (m60[potId] ?? 1) - 1));
    expect(row?.percent).toBeCloseTo(gains.reduce((sum, v) => sum + v, 0) / gains.length, 9);
  });
});
