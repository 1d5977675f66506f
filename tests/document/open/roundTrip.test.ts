import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyPlan } from '../../../renderer/document/new';
import { compactWriter, readPlan, writePlan } from '../../../renderer/document/open';
import { findJsonBreak } from '../../../renderer/document/open/brokenJson';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';

describe('writing and reading a plan', () => {
  it.each([
    ['an empty plan', emptyPlan('New')],
    ['a rack with a trial', samplePlan()],
    ['a planted layout', drawnPlan('2026-03-02')],
  ])('gives %s back', (_name, plan) => {
    expect(readPlan(writePlan(plan))).toEqual({ ok: true, plan, migratedFrom: null });
  });

  it('ignores a byte order mark', () => {
    expect(readPlan(`\uFEFF${writePlan(samplePlan())}`).ok).toBe(true);
  });

  it('writes the same text whatever order the values were typed in', () => {
    const plan = samplePlan();
    const typed = (values: Record<string, number>) =>
      writePlan({ ...plan, records: { ...plan.records, values: { m1: values } } });
    const text = typed({ 't1:1:10': 3, 't1:1:2': 2 });
    expect(text).toBe(typed({ 't1:1:2': 2, 't1:1:10': 3 }));
    expect(text.indexOf('t1:1:2')).toBeLessThan(text.indexOf('t1:1:10'));
    expect(text.endsWith('}\n')).toBe(true);
  });
});

describe('finding where JSON breaks', () => {
  it('agrees with the runtime on what JSON is', () => {
    const text = fc.oneof(
      fc.json(),
      fc.json().map((json) => json.slice(0, -1)),
      fc.string(),
      fc.string({ unit: fc.constantFrom('{', '}', '[', ']', ',', ':', '"', '1', '-', '.', 'e') }),
    );
    fc.assert(
      fc.property(text, (json) => {
        let sound = true;
        try {
          JSON.parse(json);
        } catch {
          sound = false;
        }
        expect(findJsonBreak(json) === null).toBe(sound);
      }),
      { numRuns: 2000 },
    );
  });
});

it('a copy that is written again and again holds what was edited, and nothing of what was', () => {
  const write = compactWriter();
  const plan = drawnPlan('2026-03-02');
  const typed = (values: Plan['records']['values']): Plan => ({
    ...plan,
    records: { ...plan.records, values },
  });
  const first = { 't1:1:1': 2 };
  const states = [
    plan,
    typed({ m1: first }),
    typed({ m1: first, m2: { 't1:1:1': 31 } }),
    { ...typed({ m1: { 't1:1:1': 3 } }), title: 'Renamed', plants: undefined },
    plan,
  ];
  for (const state of states) {
    const { plants, ...rest } = state;
    const is: Plan = plants ? { ...rest, plants } : rest;
    expect(readPlan(write(state as Plan))).toEqual({ ok: true, plan: is, migratedFrom: null });
  }
});
