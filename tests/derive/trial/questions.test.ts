import { describe, expect, it } from 'vitest';
import { questionsOf, rackPictureOf } from '../../../renderer/derive';
import { addFactor, editTrial } from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import { example, undrawn } from '../../builders/examplePlans';
import { fourShelves } from '../../builders/fourShelves';
import { run } from '../../builders/run';

const of = (plan: Plan) => {
  const found = questionsOf(plan);
  if (!found.ok) throw new Error(found.reason);
  return found.value;
};

describe('the questions of a trial', () => {
  it('ask of two levels by their names, of more by the factor', () => {
    expect(of(fourShelves()).map(({ asks }) => asks)).toEqual([
      'White or red and blue light?',
      'Cress or chard crop?',
      'Which medium?',
    ]);
  });

  it('say why nothing can be told', () => {
    const [light] = of(fourShelves());
    expect(light?.says).toBe(
      'Every shelf is a different combination, so nothing tells light from shelf. More plants do not help.',
    );
    const [lamp] = of(undrawn('two-lamps'));
    expect(lamp?.says).toContain('Each level stands on one shelf');
  });

  it('say what will show, and whether that is what matters', () => {
    const plan = undrawn('basil');
    const [feed] = of(plan);
    expect(feed).toMatchObject({ grade: 'fair', stand: '3 against 3 against 3' });
    expect(feed?.says).toMatch(/^3 trays each: differences of about [0-9.]+ g and more will show/);
    const { expected } = plan.trial;
    if (!expected) throw new Error('the example says what it expects');
    const picky = run(plan, editTrial, {
      patch: { expected: { ...expected, smallestDifference: 1 } },
    });
    expect(of(picky)[0]).toMatchObject({ grade: 'weak' });
    expect(of(picky)[0]?.says).toMatch(/only differences above about .*; 1\.0 g is what matters/);
  });

  it('tell by how many errors a difference must stand out where units are few', () => {
    const trial = { ...undrawn('basil').trial, expected: null };
    const plan = { ...undrawn('basil'), trial };
    expect(of(plan)[0]?.grade).toBe('fair');
    const parted = fourShelves();
    const mixed = {
      ...parted,
      trial: {
        ...parted.trial,
        factors: parted.trial.factors.filter(({ name }) => name !== 'crop'),
      },
    };
    // Two degrees of freedom: t(0.975, 2) = 4.303 (any table of Student's t).
    expect(of(mixed)[0]).toMatchObject({ grade: 'weak', stand: '2 against 2' });
    expect(of(mixed)[0]?.says).toContain('a difference must exceed 4.3 times its error');
  });
});

describe('the rack in small', () => {
  it('shows lamps, trays and pots by what they are given, from the highest shelf down', () => {
    const plan = fourShelves();
    const picture = rackPictureOf(plan, plan);
    expect(picture?.shelves.map(({ number }) => number)).toEqual([4, 3, 2, 1]);
    expect(picture?.key).toEqual([
      { channel: 'bar', names: ['white', 'red and blue'] },
      { channel: 'ground', names: ['cress', 'chard'] },
      { channel: 'dot', names: ['peat', 'coir', 'bark'] },
    ]);
    expect(picture?.shelves.map(({ bays }) => bays.map(({ shown }) => shown))).toEqual([
      [1],
      [0],
      [1],
      [0],
    ]);
    expect(picture?.shelves[0]?.trays.map(({ shown }) => shown)).toEqual([1, 1]);
    // One draw of many stands for the layout: every tray holds all three media.
    expect(picture?.example).toBe(true);
    expect(new Set(picture?.shelves[0]?.pots.map(({ shown }) => shown))).toEqual(
      new Set([0, 1, 2]),
    );
  });

  it('leaves out factors whose combinations no eye could tell apart', () => {
    const plan = run(fourShelves(), addFactor, {
      name: 'lot',
      kind: 'randomised',
      unit: 'pot',
      levels: ['1', '2', '3'],
    });
    const dots = rackPictureOf(plan, plan)?.key.find(({ channel }) => channel === 'dot');
    expect(dots?.names).toEqual(['peat', 'coir', 'bark']);
  });

  it('shows the layout itself once it is drawn', () => {
    const plan = example('basil');
    const picture = rackPictureOf(plan, plan);
    expect(picture?.example).toBe(false);
    const drawn = plan.layout?.assignments.length;
    const pots = picture?.shelves.flatMap((shelf) => shelf.pots) ?? [];
    expect(pots.filter(({ shown }) => shown !== null)).toHaveLength(drawn ?? 0);
  });
});
