import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsOfPlan, noticesOf } from '../../../renderer/derive';
import { readPlan } from '../../../renderer/document/open';
import { potsOfRack } from '../../../renderer/engine/geometry';
import type { Plan } from '../../../shared-types/plan';

// The plans are made up here to carry one flaw, or narrowly not; what is checked is the verdict,
// whose figures rest on tests elsewhere against published ones.

function example(name: string): Plan {
  const url = new URL(`../../../renderer/app/examples/${name}.json`, import.meta.url);
  const read = readPlan(readFileSync(url, 'utf8'));
  if (!read.ok) throw new Error(name);
  return read.plan;
}

function kinds(plan: Plan): string[] {
  return noticesOf(plan, findingsOfPlan(plan))
    .filter((n) => n.severity !== 'note')
    .map((n) => n.kind);
}

const basil = example('basil');

function withHarvest(plan: Plan, change: (value: number, potId: string) => number): Plan {
  const harvest = Object.fromEntries(
    Object.entries(plan.records.values['m62'] ?? {}).map(([id, v]) => [id, change(v, id)]),
  );
  return {
    ...plan,
    records: { ...plan.records, values: { ...plan.records.values, m62: harvest } },
  };
}

function withDead(plan: Plan, potIds: readonly string[]): Plan {
  const marks = Object.fromEntries(
    potIds.map((id) => [id, { mark: 'dead' as const, date: null, reason: '' }]),
  );
  return { ...plan, records: { ...plan.records, marks } };
}

describe('the sound demo', () => {
  it('raises no stop and no warning at all', () => {
    expect(kinds(basil)).toEqual([]);
  });
});

describe('two lamps, one shelf each', () => {
  const plan = example('two-lamps');

  it('is stopped as not replicated and gets no test of its lamps', () => {
    expect(kinds(plan)).toContain('factor-not-replicated');
    const outcome = findingsOfPlan(plan);
    if (!outcome.ok) throw new Error(outcome.missing);
    expect(outcome.findings.design.tested).toEqual([]);
    for (const { result } of outcome.findings.positions) {
      expect(result.terms.map((t) => t.term)).not.toContain('lamp');
    }
  });
});

describe('dead-uneven', () => {
  const levelOf = new Map(basil.layout?.assignments.map((a) => [a.potId, a.levels['f54']]));
  const ofLevel = (level: string) =>
    potsOfRack(basil.rack)
      .map((pot) => pot.id)
      .filter((id) => levelOf.get(id) === level);

  it('speaks up when one cultivar dies much more often', () => {
    expect(kinds(withDead(basil, ofLevel('v55').slice(0, 12)))).toContain('dead-uneven');
  });

  it('stays silent when the same number of deaths is spread evenly', () => {
    const spread = ['v55', 'v56', 'v57', 'v58'].flatMap((level) =>
      ofLevel(level).filter((_, i) => i % 18 === 0),
    );
    expect(kinds(withDead(basil, spread))).not.toContain('dead-uneven');
  });
});

describe('influential-pot', () => {
  const id = 't22:3:2';

  it('names a pot that lies far out', () => {
    const plan = withHarvest(basil, (v, pot) => (pot === id ? v + 30 : v));
    const notice = noticesOf(plan, findingsOfPlan(plan)).find((n) => n.kind === 'influential-pot');
    expect(notice?.text).toContain('2B-C2');
  });
});

describe('saturated', () => {
  it('has nothing to say without an interim record', () => {
    const outcome = findingsOfPlan(basil);
    expect(outcome.ok && outcome.findings.slowing).toBeNull();
  });
});
