import { describe, expect, it } from 'vitest';
import {
  growAnyway,
  needsWayOut,
  questionsOf,
  unansweredOf,
  waysOutOf,
} from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import { addFactor, setScheme } from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import { undrawn } from '../../builders/examplePlans';
import { fourShelves } from '../../builders/fourShelves';

const lit = undrawn('two-lamps');
const lamp = lit.trial.factors[0];
if (!lamp) throw new Error('the example has a factor');
/** The same with nothing said of what the factor is applied through. */
const { appliedThrough, ...unsaid } = lamp;
const plan = { ...lit, trial: { ...lit.trial, factors: [unsaid] } };

function questions(of: Plan) {
  const found = questionsOf(of);
  if (!found.ok) throw new Error(found.reason);
  return found.value;
}

const wayOf = (of: Plan, what: string) => {
  const found = waysOutOf(of).find(({ title }) => title.includes(what));
  if (!found) throw new Error(`a way to ${what} is offered`);
  return found;
};

const gradesIn = (of: readonly { factor: { name: string }; grade: string }[]) =>
  Object.fromEntries(of.map(({ factor, grade }) => [factor.name, grade]));

describe('ways out of one shelf a lamp', () => {
  const ways = waysOutOf(plan);
  const dfOf = (what: string) => wayOf(plan, what).questions[0]?.factor.errorDf;

  it('are offered only where a question cannot be answered', () => {
    expect(questions(plan).filter(needsWayOut)).toHaveLength(1);
    expect(questions(undrawn('basil')).filter(needsWayOut)).toHaveLength(0);
    expect(waysOutOf(undrawn('basil'))).toEqual([]);
  });

  it('never lay lamps on trays or pots, which share them', () => {
    expect(appliedThrough).toBe('light');
    const titles = waysOutOf(lit).map(({ title }) => title);
    expect(titles.filter((title) => /tray/.test(title))).toEqual([]);
    // Boards make parts of a shelf that can have lamps of their own.
    expect(titles[0]).toContain('across each shelf');
  });

  it('count degrees of freedom as the textbook does', () => {
    // 80 pots in 4 trays as blocks, two treatments: 79 − 3 − 1.
    expect(dfOf('in every tray')).toBe(75);
    // 6 shelves, two lamps: 5 − 1.
    expect(dfOf('Add 4 shelves')).toBe(4);
    expect(wayOf(plan, 'Add 4 shelves')).toMatchObject({ pots: 240, morePots: 160 });
    // 2 shelves × 6 runs, shelves, runs and lamps out: 11 − 1 − 5 − 1.
    expect(dfOf('6 times')).toBe(4);
    expect(wayOf(plan, '6 times')).toMatchObject({ pots: 480, morePots: 400 });
    // 6 bays drawn over the whole rack, two lamps: 5 − 1; within shelves it would be one less.
    const parted = wayOf(lit, 'boards across each shelf').questions[0]?.factor;
    expect(parted).toMatchObject({ unit: 'bay', unitCount: 6, errorDf: 4 });
  });

  it('count the lamps that are taken down and those hung in their place', () => {
    const before = lit.rack.shelves.flatMap(({ lamps }) => lamps).length;
    // Two boards cut each lamp into three.
    expect(wayOf(lit, 'boards across each shelf').costs).toContain(
      `${3 * before} short lamps in place of ${before}`,
    );
  });

  it('say on the card what nobody has said of the factor', () => {
    expect(wayOf(plan, 'in every tray').costs).toContain('only if lamp can be given pot by pot');
    expect(wayOf(fourShelves(), 'Mix cress').costs).toEqual(['nothing to buy']);
  });

  it('have a skeleton that adds up to all units less one', () => {
    for (const one of [...ways, ...waysOutOf(lit)]) {
      expect(one.skeleton.reduce((sum, row) => sum + row.df, 0)).toBe(one.pots - 1);
    }
  });

  it('keep the other factors of the trial in the table of swapped runs', () => {
    const args = { name: 'cultivar', kind: 'randomised', unit: 'pot', levels: ['a', 'b'] } as const;
    const added = applyCommand(plan, addFactor, args);
    if (!added.ok) throw new Error(added.reason);
    const mixed = applyCommand(added.plan, setScheme, { scheme: 'split-plot' });
    if (!mixed.ok) throw new Error(mixed.reason);
    const swapped = wayOf(mixed.plan, 'swapped each time');
    const df = (source: string) => swapped.skeleton.find((row) => row.source === source)?.df;
    // A split plot of 12 shelves in runs with 40 pots each: 480 − 12 within, cultivar and its
    // interaction with the lamps 1 each.
    expect(df('cultivar')).toBe(1);
    expect(swapped.skeleton.filter((row) => row.factorIds.length === 2)).toMatchObject([
      { df: 1, stratum: 'pots' },
    ]);
    expect(df('between pots')).toBe(466);
    expect(swapped.skeleton.reduce((sum, row) => sum + row.df, 0)).toBe(479);
  });

  it('leave every question as promised once taken up, in one step', () => {
    for (const of of [plan, lit, fourShelves()]) {
      for (const way of waysOutOf(of)) {
        const taken = applyCommand(of, way.command('2026-03-01'), null);
        if (!taken.ok) throw new Error(taken.reason);
        expect(gradesIn(questions(taken.plan))).toEqual(gradesIn(way.questions));
      }
    }
  });
});

describe('ways out of four shelves that are four combinations', () => {
  const four = fourShelves();

  it('say first what leaves no question open, the cheapest before the rest', () => {
    expect(gradesIn(questions(four))).toEqual({
      light: 'cannot',
      crop: 'cannot',
      medium: 'strong',
    });
    const ways = waysOutOf(four);
    expect(ways[0]).toMatchObject({
      title: 'Mix cress and chard in every tray',
      costs: ['nothing to buy'],
    });
    // Four shelves, two lights: 3 − 1.
    expect(ways[0]?.questions.find(({ factor }) => factor.name === 'light')?.factor.errorDf).toBe(
      2,
    );
    const board = wayOf(four, 'and a white board across each shelf');
    expect(gradesIn(board.questions)).toEqual({ light: 'fair', crop: 'strong', medium: 'strong' });
    expect(board.costs[0]).toBe('4 boards');
    expect(board.worse).toEqual([]);
    const titles = ways.map(({ title }) => title).join('\n');
    expect(titles).toContain('add 4 shelves like these');
    expect(titles).toContain('swapped each time');
  });

  it('never make another question worse without saying so', () => {
    const rank = ['cannot', 'weak', 'fair', 'strong'];
    for (const way of waysOutOf(four)) {
      const worse = way.questions.filter(({ factorId, grade }) => {
        const was = questions(four).find((one) => one.factorId === factorId)?.grade ?? 'cannot';
        return rank.indexOf(grade) < rank.indexOf(was);
      });
      expect(way.worse).toEqual(worse.map(({ factor }) => factor.name));
    }
  });

  it('leave the plan alone until one is taken', () => {
    expect(four).toEqual(fourShelves());
  });

  it('can be declined with a reason, which answers the stops', () => {
    expect(unansweredOf(four).map(({ name, reason }) => [name, reason])).toEqual([
      ['light', null],
      ['crop', null],
    ]);
    const grown = applyCommand(four, growAnyway(four, 'A first look.', '2026-03-01'), null);
    if (!grown.ok) throw new Error(grown.reason);
    for (const { reason } of unansweredOf(grown.plan)) expect(reason).toMatch(/^A first look\./);
  });
});
