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

  it('lets one pass that is only a little off', () => {
    expect(kinds(withHarvest(basil, (v, pot) => (pot === id ? v + 4 : v)))).not.toContain(
      'influential-pot',
    );
  });
});

describe('spread-unequal', () => {
  const levels = new Map(basil.layout?.assignments.map((a) => [a.potId, a.levels['f54']]));
  const stretched = (factor: number) => {
    let turn = 1;
    return withHarvest(basil, (v, pot) => {
      if (levels.get(pot) !== 'v56') return v;
      turn = -turn;
      return v + turn * factor;
    });
  };

  it('speaks up when one cultivar scatters far more', () => {
    expect(kinds(stretched(11))).toContain('spread-unequal');
  });

  it('stays silent when it scatters a little more', () => {
    expect(kinds(stretched(1))).not.toContain('spread-unequal');
  });
});

describe('residuals-patterned', () => {
  const pots = new Map(potsOfRack(basil.rack).map((pot) => [pot.id, pot]));
  // A bump in the middle of every tray that neither light nor rows nor columns explain.
  const bumped = (grams: number) =>
    withHarvest(basil, (v, id) => {
      const pot = pots.get(id);
      return pot && pot.row > 3 === pot.column > 2 ? v + grams : v;
    });

  it('speaks up when neighbours are alike in what is left over', () => {
    expect(kinds(bumped(7))).toContain('residuals-patterned');
  });

  it('stays silent when they are hardly so', () => {
    expect(kinds(bumped(0.3))).not.toContain('residuals-patterned');
  });
});

describe('position-changes-answer', () => {
  const trayFeed = new Map(basil.layout?.assignments.map((a) => [a.potId, a.levels['f50']]));
  const weakened = (byG: number) =>
    withHarvest(basil, (v, id) => {
      const feed = trayFeed.get(id);
      return feed === 'v53' ? v - byG : feed === 'v52' ? v - byG * 0.8 : v;
    });

  it('speaks up when feed is shown only once the light is allowed for', () => {
    expect(kinds(weakened(6))).toContain('position-changes-answer');
  });

  it('stays silent when every model gives the same verdict', () => {
    expect(kinds(basil)).not.toContain('position-changes-answer');
  });
});

describe('saturated', () => {
  // Leaves weighed a week before harvest too; `share` of the growth until then in the last week.
  const weighed = (share: number): Plan => {
    const start = basil.records.values['m60'] ?? {};
    const harvest = basil.records.values['m62'] ?? {};
    const between = Object.fromEntries(
      Object.entries(harvest).map(([id, end], i) => {
        const whole = end - (start[id] ?? 0);
        return [id, end - whole * share * (0.9 + 0.2 * (i % 2))];
      }),
    );
    const trial = basil.trial;
    const first = trial?.measurements.find((m) => m.id === 'm60');
    if (!trial || !first) throw new Error('the demo has a weighing at the start');
    const interim = { ...first, id: 'm900', moment: 'interim' as const, date: '2026-03-30' };
    return {
      ...basil,
      trial: { ...trial, measurements: [...trial.measurements, interim] },
      records: { ...basil.records, values: { ...basil.records.values, m900: between } },
    };
  };

  // 28 days, then 7: at an even pace the last week has a fifth of the growth.
  it('speaks up when the last week brought a fiftieth of the growth', () => {
    expect(kinds(weighed(0.015))).toContain('saturated');
  });

  it('stays silent when growth slowed down but went on', () => {
    expect(kinds(weighed(0.05))).not.toContain('saturated');
  });

  it('has nothing to say without an interim record', () => {
    const outcome = findingsOfPlan(basil);
    expect(outcome.ok && outcome.findings.slowing).toBeNull();
  });
});
