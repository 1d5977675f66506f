import { describe, expect, it } from 'vitest';
import { needsWayOut, unitsOfPlan, waysOutOf } from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import { addFactor, redesign, repeatShelves, setScheme } from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import { undrawn } from '../../builders/examplePlans';

const lit = undrawn('two-lamps');
const lamp = lit.trial.factors[0];
if (!lamp) throw new Error('the example has a factor');
/** The same with nothing said of what the factor is applied through. */
const { appliedThrough, ...unsaid } = lamp;
const plan = { ...lit, trial: { ...lit.trial, factors: [unsaid] } };

function factorIn(of: Plan) {
  const units = unitsOfPlan(of);
  if (!units.ok || !units.value.factors[0]) throw new Error('the trial has units');
  return units.value.factors[0];
}

describe('ways out of one shelf a lamp', () => {
  const ways = waysOutOf(plan, lamp.id);
  const way = (what: string) => {
    const found = ways.find((one) => one.title.includes(what));
    if (!found) throw new Error(`a way to ${what} is offered`);
    return found;
  };

  it('are offered only where the factor cannot be judged', () => {
    expect(needsWayOut(factorIn(plan))).toBe(true);
    expect(needsWayOut(factorIn(undrawn('basil')))).toBe(false);
    expect(ways).toHaveLength(5);
  });

  it('never lay lamps on trays or pots, which share them', () => {
    expect(appliedThrough).toBe('light');
    expect(waysOutOf(lit, lamp.id).map(({ step }) => step.do)).toEqual([
      'repeatShelves',
      'repeatTrial',
      'reportAsCase',
    ]);
  });

  it('count degrees of freedom as the textbook does', () => {
    // 2 shelves × 2 trays, lamps at random in complete blocks: (2 − 1)(2 − 1).
    expect(way('single trays')).toMatchObject({ errorDf: 1, morePots: 0 });
    // 80 pots in 4 trays as blocks, two treatments: 79 − 3 − 1.
    expect(way('single pots')).toMatchObject({ errorDf: 75, pots: 80 });
    // 6 shelves, two lamps: 5 − 1.
    expect(way('Add 4 shelves')).toMatchObject({ errorDf: 4, pots: 240, morePots: 160 });
    // 2 shelves × 6 runs, shelves, runs and lamps out: 11 − 1 − 5 − 1.
    expect(way('6 runs')).toMatchObject({ errorDf: 4, pots: 480, morePots: 400 });
    expect(way('case').step.do).toBe('reportAsCase');
  });

  it('have a skeleton that adds up to all units less one', () => {
    for (const one of ways) {
      expect(one.skeleton.reduce((sum, row) => sum + row.df, 0)).toBe(one.pots - 1);
    }
  });

  it('keep the other factors of the trial in the table of swapped runs', () => {
    const args = { name: 'cultivar', kind: 'randomised', unit: 'pot', levels: ['a', 'b'] } as const;
    const added = applyCommand(plan, addFactor, args);
    if (!added.ok) throw new Error(added.reason);
    const mixed = applyCommand(added.plan, setScheme, { scheme: 'split-plot' });
    if (!mixed.ok) throw new Error(mixed.reason);
    const swapped = waysOutOf(mixed.plan, lamp.id).find(({ title }) => title.startsWith('Swap'));
    const df = (source: string) => swapped?.skeleton.find((row) => row.source === source)?.df;
    // A split plot of 12 shelves in runs with 40 pots each: 480 − 12 within, cultivar and its
    // interaction with the lamps 1 each.
    expect(df('cultivar')).toBe(1);
    expect(swapped?.skeleton.filter((row) => row.factorIds.length === 2)).toMatchObject([
      { df: 1, stratum: 'pots' },
    ]);
    expect(df('between pots')).toBe(466);
    expect(swapped?.skeleton.reduce((sum, row) => sum + row.df, 0)).toBe(479);
  });

  it('leave the factor judged as promised once taken up', () => {
    const { step, errorDf } = way('single pots');
    if (step.do !== 'redesign') throw new Error('pots are laid out anew');
    const split = applyCommand(plan, redesign, step);
    if (!split.ok) throw new Error(split.reason);
    expect(factorIn(split.plan)).toMatchObject({ replicated: true, errorDf });
    const more = way('Add 4 shelves');
    if (more.step.do !== 'repeatShelves') throw new Error('shelves are repeated');
    const grown = applyCommand(plan, repeatShelves, more.step);
    if (!grown.ok) throw new Error(grown.reason);
    expect(factorIn(grown.plan)).toMatchObject({ replicated: true, errorDf: 4 });
  });

  it('leave the plan alone until one is taken', () => {
    expect(lit).toEqual(undrawn('two-lamps'));
  });
});
