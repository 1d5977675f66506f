import { describe, expect, it } from 'vitest';
import {
  allocationOf,
  findingsOf,
  modelPOf,
  questionOf,
  randomisationSentence,
  randomisationTest,
  termOf,
  trialTable,
  type Findings,
  type RandomisationInput,
} from '../../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../../renderer/engine/trial';
import { stream } from '../../../renderer/engine/trial/stream';
import type { Rack } from '../../../shared-types/rack';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import type { PositionModel } from '../../../shared-types/trial/position';
import { drawn, factorOf, rackOf, trialOf, harvestWeight } from '../../builders/trialInput';

const measurement = harvestWeight({ lowest: 0, highest: 100 });

/** A drawn trial with weights that fall along the rows and differ by the first level of a factor. */
function harvest(
  rack: Rack,
  factors: Factor[],
  more: Partial<Trial> & { effect?: number },
): RandomisationInput {
  const { effect = 0, ...rest } = more;
  const trial = trialOf(factors, {
    startDate: '2026-03-02',
    harvestDate: '2026-03-30',
    primaryOutcomeId: 'm1',
    primaryPosition: 'ar1',
    measurements: [measurement] as Trial['measurements'],
    ...rest,
  });
  const pots = measuredPots(rack);
  // Light falls to the right, so that balance over it says something.
  const ppfdByPot = new Map(pots.map((pot) => [pot.id, 200 - pot.xMm / 20]));
  const { layout } = drawLayout({ rack, trial, ppfdByPot, zones: [], seed: 'laid', ...drawn });
  const random = stream('layouts', 'weights');
  const levels = new Map(layout.assignments.map((one) => [one.potId, one.levels]));
  const values = pots.map((pot): [string, number] => {
    const first = levels.get(pot.id)?.['f1'] === 'l101';
    return [pot.id, 30 + Math.sin(pot.xMm / 100) + random.normal() + (first ? effect : 0)];
  });
  return {
    rack,
    trial,
    layout,
    zones: [],
    ppfdByPot,
    ppfdAtDraw: ppfdByPot,
    startByPot: new Map(),
    blockByPot: new Map(),
    records: {
      second: {},
      marks: {},
      incidents: [],
      values: { m1: Object.fromEntries(values) },
    },
  };
}

function found(input: RandomisationInput): Findings {
  const outcome = findingsOf(input, { primaryOnly: true });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const redrawn = (input: RandomisationInput, factorIds: string[], runs: number) =>
  randomisationTest(input, {
    measurementId: null,
    index: null,
    factorIds,
    runs,
    seed: input.layout?.seed ?? '',
  });

const four = rackOf({ shelves: 1, traysPerShelf: 2, rows: 4, columns: 4 });
const constraint = { acceptanceShare: 1, balance: [], likeNeighbours: null };

/** Levels of the first factor at each pot, in layouts drawn anew, with rows, columns and light. */
function laidAnew(input: RandomisationInput, runs: number) {
  const { table, design, pots } = found(input);
  const question = questionOf(input.trial, null, undefined);
  if (!question) throw new Error('weights were measured');
  const allocation = allocationOf(input, trialTable(input, question), design, { runs, seed: 'x' });
  const { anew } = allocation ?? {};
  if (!anew) throw new Error('layouts are drawn anew');
  const places = pots.map(({ id }, i) => ({
    tray: String(table.columns['tray']?.[i]),
    row: Number(table.columns['row']?.[i]),
    column: Number(table.columns['column']?.[i]),
    light: input.ppfdByPot.get(id) ?? 0,
  }));
  return Array.from({ length: runs }, (_, run) =>
    places.map((place, i) => {
      const { combinations, codes } = anew(run);
      return { ...place, level: combinations[codes[i] ?? -1]?.[0] ?? '' };
    }),
  );
}
type Laid = ReturnType<typeof laidAnew>[number];

/** Mean light of the first level less that of the whole. */
function imbalance(laid: Laid): number {
  const mean = (of: Laid) => of.reduce((sum, { light }) => sum + light, 0) / of.length;
  return Math.abs(mean(laid.filter(({ level }) => level === 'Level 1')) - mean(laid));
}

/** The most like neighbours of any pot. */
function mostLike(laid: Laid): number {
  const near = (a: Laid[number], b: Laid[number]) =>
    a.tray === b.tray && Math.abs(a.row - b.row) + Math.abs(a.column - b.column) === 1;
  const like = (a: Laid[number]) => laid.filter((b) => near(a, b) && a.level === b.level).length;
  return Math.max(...laid.map(like));
}

const isLatin = (laid: Laid): boolean =>
  ['row', 'column'].every((line) => {
    const lines = laid.map(
      (pot) => `${pot.tray} ${line === 'row' ? pot.row : pot.column} ${pot.level}`,
    );
    return new Set(lines).size === laid.length;
  });

describe('layouts drawn anew for findings under likeness of neighbours', () => {
  it.each<[string, Factor[], Partial<Trial>, (laid: Laid) => boolean]>([
    [
      'balance over light',
      [factorOf(1, 'pot', 2)],
      { constraint: { acceptanceShare: 0.1, balance: ['light'], likeNeighbours: null } },
      // A tenth of free draws is as good: |z| below 0.13 of a standard error of 1.3.
      (laid) => imbalance(laid) < 0.4,
    ],
    [
      'a cap on like neighbours',
      [factorOf(1, 'pot', 4)],
      { constraint: { ...constraint, likeNeighbours: 1 } },
      (laid) => mostLike(laid) === 0,
    ],
    ['Latin squares', [factorOf(1, 'pot', 4)], { scheme: 'latin-square' }, isLatin],
  ])('come from the scheme itself: %s', (_, factors, more, holds) => {
    const input = harvest(four, factors, more);
    const { primary } = found(input);
    const term = termOf(primary.result, ['Factor 1']);
    expect(primary.result.method).toContain('layouts drawn anew by the scheme of the draw');
    expect(term?.randomised).toMatchObject({ layouts: 1999, exact: false, approximate: false });
    // The layout as drawn is one of them.
    expect(term?.p).toBe((1 + (term?.randomised?.asExtreme ?? 0)) / 2000);
    expect(termOf(found(input).primary.result, ['Factor 1'])).toEqual(term);
    const laid = laidAnew(input, 50);
    expect(laid.every(holds)).toBe(true);
    expect(new Set(laid.map((one) => one.map(({ level }) => level).join())).size).toBe(50);
  });
});

describe('a randomisation test of one of two factors on pots', () => {
  const factors = [factorOf(1, 'pot', 2), factorOf(2, 'pot', 2, { name: 'Other' })];
  const positions: PositionModel[] = ['none', 'ar1'];

  it.each(positions)('leaves the other where it was, with position as %s', (primaryPosition) => {
    const input = harvest(four, factors, { primaryPosition });
    const one = redrawn(input, ['f2'], 1999);
    expect([one.moved, one.approximate]).toEqual([['Other'], null]);
    expect(one.method).toContain('the labels of Factor 1 stayed where they were');
    if (primaryPosition === 'none') {
      // What the first does, however much, is in every layout alike.
      const much = redrawn(harvest(four, factors, { primaryPosition, effect: 500 }), ['f2'], 1999);
      expect(much.p).toBe(one.p);
    }
    const both = redrawn(input, ['f1', 'f2'], 199);
    expect(both.approximate).not.toBeNull();
    expect(randomisationSentence(both, 0.05)).toContain('is approximate');
  });

  it('says that it is approximate where the scheme moves all of them', () => {
    for (const primaryPosition of positions) {
      const capped = { primaryPosition, constraint: { ...constraint, likeNeighbours: 2 } };
      const one = redrawn(harvest(four, factors, capped), ['f2'], 199);
      expect(one.moved).toEqual(['Factor 1', 'Other']);
      const words = randomisationSentence(one, 0.05);
      expect(words).toContain('The labels of Factor 1 and Other moved together.');
      expect(words).toContain('is approximate');
    }
  });

  it('is the test that answers, and says why where more layouts tell otherwise', () => {
    const input = harvest(four, factors, {});
    const findings = found(input);
    const same = redrawn(input, ['f2'], 1999);
    expect(same.p).toBe(modelPOf(findings, same));
    expect(randomisationSentence(same, 0.05, modelPOf(findings, same))).toContain(
      'The answer rests on this very test.',
    );
    const more = { ...redrawn(input, ['f2'], 3999), p: 0.049 };
    expect(randomisationSentence(more, 0.05, 0.051)).toMatch(
      /the same test over fewer layouts .*, and the two disagree: p is so near 0.05/,
    );
    expect(randomisationSentence(more, 0.05, 0.048)).toMatch(/fewer layouts \(p = 0.048\)\.$/);
  });
});
