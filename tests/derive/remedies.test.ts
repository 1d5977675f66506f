import { describe, expect, it } from 'vitest';
import { drawFor, noticesOf, ppfdByPotOf, remedyOf } from '../../renderer/derive';
import { applyCommand } from '../../renderer/document/apply';
import { floodNotices } from '../../renderer/engine/flood';
import { rackNotices } from '../../renderer/engine/geometry';
import { hangingNotices } from '../../renderer/engine/lamps';
import { measuredPots } from '../../renderer/engine/trial';
import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import type { Factor } from '../../shared-types/trial/trial';
import { undrawn } from '../builders/examplePlans';
import { floodPairs } from '../engine/flood/pairs';
import { rackPairs } from '../engine/geometry/pairs';
import { factorOf, trialOf } from '../builders/trialInput';

const KIND = 'treatment-confounded-with-light';
const basil = undrawn('basil');

/** A factor placed by hand over the pots of the example, on the brightest of them or on every other. */
function placed(where: 'brightest' | 'mixed'): Plan {
  const light = ppfdByPotOf(basil);
  const ranked = [...measuredPots(basil.rack)].sort(
    (a, b) => (light.get(a.id) ?? 0) - (light.get(b.id) ?? 0),
  );
  const half = ranked.length / 2;
  const first = (i: number) => (where === 'mixed' ? i % 2 === 0 : i < half);
  const factor: Factor = factorOf(1, 'pot', 2, {
    kind: 'fixed',
    where: ranked.map(({ id }, i) => ({ unitId: id, levelId: first(i) ? 'l101' : 'l102' })),
  });
  return { ...basil, nextId: 10_000, trial: trialOf([factor]) };
}

const told = (plan: Plan): Notice[] => noticesOf(plan).filter(({ kind }) => kind === KIND);

function remedied(plan: Plan): Plan {
  const [notice] = told(plan);
  const remedy = notice ? remedyOf(notice, plan) : null;
  if (!remedy) throw new Error('the notice has a remedy');
  const done = applyCommand(plan, remedy.command, null);
  if (!done.ok) throw new Error(done.reason);
  return done.plan;
}

describe('the button of a notice', () => {
  const pairs = [...rackPairs, ...floodPairs];
  // Only another pump, lamp, drain or shelf helps, or what is wrong is that a figure is missing.
  const byHand = new Set<string>([
    'lamp-outside-bay',
    'siphon-may-not-start',
    'siphon-may-not-break',
    'pump-below-head',
    'shelf-overloaded',
    'circuit-overloaded',
  ]);
  const offered = new Map<string, boolean>();
  const all = (plan: Plan): Notice[] => [
    ...rackNotices(plan.rack, 'metric'),
    ...hangingNotices(plan.rack, 'metric'),
    ...floodNotices(plan),
  ];
  const wrong = (plan: Plan) => all(plan).filter(({ severity }) => severity !== 'note');

  it.each(pairs)('of $kind mends it and breaks nothing: $why', ({ kind, flawed }) => {
    const before = all(flawed).filter((one) => one.kind === kind);
    for (const notice of before) {
      const remedy = remedyOf(notice, flawed);
      offered.set(kind, (offered.get(kind) ?? false) || remedy !== null);
      if (!remedy) continue;
      const done = applyCommand(flawed, remedy.command, null);
      if (!done.ok) throw new Error(done.reason);
      expect(all(done.plan).filter((one) => one.kind === kind).length).toBeLessThan(before.length);
      const kinds = new Set(wrong(flawed).map((one) => one.kind));
      expect(wrong(done.plan).filter((one) => !kinds.has(one.kind))).toEqual([]);
    }
  });

  it('stands beside most kinds of the rack and the flood', () => {
    const without = [...offered].flatMap(([kind, has]) => (has ? [] : [kind]));
    expect(without.filter((kind) => !byHand.has(kind))).toEqual([]);
  });
});

describe('levels placed by hand in different light', () => {
  it('are a stop that says to shuffle them, and whose button does', () => {
    const plan = placed('brightest');
    const [notice] = told(plan);
    expect(notice).toMatchObject({ severity: 'stop', about: ['factor:f1'] });
    expect(notice?.remedy).toBe(
      'Have Factor 1 shuffled over the pots, or even out the lamps until the levels stand in like light.',
    );
    expect(notice && remedyOf(notice, plan)?.label).toBe('Have Factor 1 shuffled');
    // The button hangs on what the notice is, not on how it is worded.
    const reworded: Notice | undefined = notice && { ...notice, severity: 'warn', text: 'Else.' };
    expect(reworded && remedyOf(reworded, plan)?.label).toBe('Have Factor 1 shuffled');
    const shuffled = remedied(plan);
    expect(shuffled.trial?.factors[0]?.kind).toBe('randomised');
    expect(told(shuffled)).toEqual([]);
    const drawn = drawFor(shuffled, 'seed', '2026-03-01T09:00:00+00:00');
    if (!drawn.ok) throw new Error(drawn.reason);
    expect(told({ ...shuffled, layout: drawn.value })).toEqual([]);
  });

  it('are none where they stand in like light', () => {
    expect(told(placed('mixed'))).toEqual([]);
  });

  it('are evened out by lamps too: the light of today counts, also after a draw', () => {
    const plan = placed('brightest');
    const drawn = drawFor(
      { ...plan, trial: trialOf([...(plan.trial?.factors ?? []), factorOf(2, 'pot', 2)]) },
      'seed',
      '2026-03-01T09:00:00+00:00',
    );
    if (!drawn.ok) throw new Error(drawn.reason);
    const both = {
      ...plan,
      trial: trialOf([...(plan.trial?.factors ?? []), factorOf(2, 'pot', 2)]),
      layout: drawn.value,
    };
    expect(told(both)).toHaveLength(1);
    const dark = { ...both.rack, shelves: both.rack.shelves.map((s) => ({ ...s, lamps: [] })) };
    expect(told({ ...both, rack: dark, light: { ...both.light, readings: [] } })).toEqual([]);
  });

  it('are not shuffled by a click once planted', () => {
    const plan = placed('brightest');
    const [notice] = told(plan);
    const layout = { ...undrawnLayout(), plantedAt: '2026-03-02' };
    expect(notice && remedyOf(notice, { ...plan, layout })).toBeNull();
  });
});

function undrawnLayout() {
  const drawn = drawFor(
    { ...basil, trial: trialOf([factorOf(1, 'pot', 2)]) },
    'seed',
    '2026-03-01T09:00:00+00:00',
  );
  if (!drawn.ok) throw new Error(drawn.reason);
  return drawn.value;
}
