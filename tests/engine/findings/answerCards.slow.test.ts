import { describe, expect, it } from 'vitest';
import { findingsOfPlan } from '../../../renderer/derive';
import {
  answerCards,
  answersOf,
  learntWords,
  remarksOf,
  sureMeaning,
  type Findings,
} from '../../../renderer/engine/findings';
import type { Plan } from '../../../shared-types/plan';
import { interacting } from '../../builders/harvests';
import { smallBasil } from '../../builders/smallBasil';

function findingsOf(plan: Plan): Findings {
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const small = findingsOf(smallBasil());

type Term = Findings['primary']['result']['terms'][number];

/** The same findings with other terms: `terms` by what of the table of variance it would say. */
function withTerms(names: readonly string[], pOf: (term: string) => number): Findings {
  const [role] = small.design.tested;
  const [term] = small.primary.result.terms;
  if (!role || !term) throw new Error('the small trial tests feed');
  const tested = names.map((name) => ({
    ...role,
    column: name,
    factor: { ...role.factor, name },
  }));
  let sets: string[][] = [[]];
  for (const name of names) sets = [...sets, ...sets.map((set) => [...set, name])];
  const terms = sets
    .filter((set) => set.length > 0)
    .map((set): Term => ({ ...term, term: set.join(' × '), p: pOf(set.join(' × ')) }));
  const result = { ...small.primary.result, terms, comparisons: [] };
  return {
    ...small,
    design: { ...small.design, tested },
    primary: { ...small.primary, result },
    positions: [],
  };
}

const FIVE = ['a', 'b', 'c', 'd', 'e'];

describe('with five factors', () => {
  it('of thirty questions, those that show nothing are folded away with a count', () => {
    const { first, folded, foldedWords } = answerCards(withTerms(FIVE, () => 0.6));
    expect(first).toHaveLength(4);
    expect(first.at(-1)?.about).toBe('place');
    expect(folded).toHaveLength(3);
    expect(foldedWords).toBe('3 more questions: nothing shown');
  });

  it('one interaction of 26 that is small by chance is not called clear', () => {
    const chance = withTerms(FIVE, (term) => (term === 'a × b' ? 0.03 : 0.6));
    const about = answersOf(chance).filter(({ about }) => about === 'interaction');
    expect(about).toEqual([
      expect.objectContaining({
        headline: 'No clear sign of it: 26 combinations',
        sure: 'cannot-tell',
      }),
    ]);
    // 26 × 0.0019 is just under 0.05, 26 × 0.002 is not.
    for (const [p, sure] of [
      [0.0019, 'clear'],
      [0.002, 'leaning'],
    ] as const) {
      const one = withTerms(FIVE, (term) => (term === 'a × b' ? p : 0.6));
      expect(answersOf(one).find(({ of }) => of === 'a × b')?.sure).toBe(sure);
    }
  });

  it('the one interaction of two factors is judged as the model has it', () => {
    const two = withTerms(['a', 'b'], (term) => (term === 'a × b' ? 0.04 : 0.6));
    expect(answersOf(two).find(({ of }) => of === 'a × b')).toMatchObject({
      sure: 'clear',
      why: '',
    });
  });
});

it('few questions are all laid out', () => {
  const { first, folded, foldedWords } = answerCards(small);
  expect(first).toEqual(answersOf(small));
  expect(folded).toEqual([]);
  expect(foldedWords).toBe('');
});

it('below the answers stands what was planned, left out, and would have changed them', () => {
  const plan = smallBasil();
  const dead = plan.layout?.assignments[0]?.potId ?? '';
  const marks = { [dead]: { mark: 'dead' as const, date: null, reason: '' } };
  const lines = remarksOf(findingsOf({ ...plan, records: { ...plan.records, marks } }));
  expect(lines.map(({ text }) => text)).toEqual([
    'Locked on 2026-03-02, before any result, with the light at each pot.',
    '1 dead, of 72 pots.',
    'None of 6 corrections for place.',
  ]);
  const { analysisLocked: _gone, ...open } = plan.trial;
  const unlocked = findingsOf({ ...plan, trial: open });
  expect(remarksOf(unlocked)[0]?.text).toMatch(/^Not locked before the results/);
  expect(remarksOf(unlocked)[1]?.text).toBe('Nothing: all 72 pots are in.');
});

it('a verdict that another correction for place would have changed is said', () => {
  const [, other] = small.positions.filter(({ model }) => model !== small.primary.model);
  if (!other) throw new Error('several corrections for place were tried');
  const terms = other.result.terms.map((t) => (t.term === 'cultivar' ? { ...t, p: 0.4 } : t));
  const positions = small.positions.map((one) =>
    one === other ? { ...one, result: { ...one.result, terms } } : one,
  );
  const text = remarksOf({ ...small, positions }).at(-1)?.text;
  expect(text).toMatch(/^Cultivar is (not clear|clear) with /);
});

it('the words for sureness are explained at the level of the trial', () => {
  expect(sureMeaning('leaning', 0.05)).toContain('5 % to 10 %');
  expect(sureMeaning('clear', 0.01)).toContain('fewer than 1 %');
});

it('an answer that depends on another factor says so', () => {
  const feed = answersOf(findingsOf(interacting())).find(({ of }) => of === 'Feed');
  expect(feed?.why).toMatch(/It depends on cultivar\.$/);
});

it('what was learnt goes into a line with the figures of the answers', () => {
  const line = learntWords(small, 'Basil');
  expect(line).toMatch(/^Learnt from “Basil”, Fresh weight: Strong .* grew the heaviest plants: /);
  const [feed] = answersOf(small);
  expect(line).toContain(feed?.figure);
  expect(line).toContain(', clear.');
});
