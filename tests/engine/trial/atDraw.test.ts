import { describe, expect, it } from 'vitest';
import {
  balanceOf,
  drawLayout,
  layoutNotices,
  layoutState,
  measuredPots,
  verifyLayout,
  type TrialInput,
} from '../../../renderer/engine/trial';
import type { Layout } from '../../../shared-types/layout';
import type { Trial } from '../../../shared-types/trial/trial';
import { domedLight, drawn, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 6 });
const then = domedLight(rack, 0.3);
/** The lamps moved to one side since. */
const now = new Map(measuredPots(rack).map((pot) => [pot.id, 150 + pot.xMm / 10]));
const balanced = { acceptanceShare: 0.1, balance: ['light'], likeNeighbours: null } as const;

function drawnBy(more: Partial<Trial>, starts?: ReadonlyMap<string, number>) {
  const trial = trialOf([factorOf(1, 'pot', 4)], more);
  const input: TrialInput = { ...inputOf(rack, trial, then), startByPot: starts };
  const { layout } = drawLayout({ ...input, ...drawn, seed: 'then' });
  return { input, today: { ...input, ppfdByPot: now }, layout };
}

/** As layouts were before they kept what the draw read. */
const bare = (layout: Layout): Layout => ({
  ...layout,
  assignments: layout.assignments.map(({ ppfdUmol, startValue, ...rest }) => rest),
});

describe('a layout keeps the light that it was drawn by', () => {
  const designs: [string, Partial<Trial>][] = [
    ['balances the light', { constraint: { ...balanced, balance: ['light'] } }],
    ['has bands along the light', { blocks: { by: 'light', bands: 6 }, scheme: 'complete-blocks' }],
  ];
  it.each(designs)('and is drawn again by it where the draw %s', (_, more) => {
    const { input, today, layout } = drawnBy(more);
    expect(layout.assignments.map(({ ppfdUmol }) => ppfdUmol)).toEqual(
      measuredPots(rack).map(({ id }) => Math.round((then.get(id) ?? NaN) * 100) / 100),
    );
    for (const light of [input, today, { ...input, ppfdByPot: new Map<string, number>() }]) {
      expect(layoutState(light, layout)).toBe('fresh');
      expect(verifyLayout(light, layout)).toEqual({ redrawn: true, differing: [], said: [] });
      expect(balanceOf(light, layout)).toEqual(balanceOf(input, layout));
    }
  });

  it('and tells, before planting, that what it balances is no longer the light', () => {
    const { input, today, layout } = drawnBy({ constraint: { ...balanced, balance: ['light'] } });
    const told = (data: TrialInput, one = layout) => layoutNotices({ ...data, layout: one });
    expect(told(input)).toEqual([]);
    expect(told(today)).toEqual([
      expect.objectContaining({ kind: 'layout-stale', severity: 'note' }),
    ]);
    expect(told(today)[0]?.text).toContain('The layout still holds');
    expect(told(today, { ...layout, plantedAt: '2026-03-02' })).toEqual([]);
    const within = new Map([...then].map(([id, ppfd]) => [id, ppfd * 1.05]));
    expect(told({ ...input, ppfdByPot: within })).toEqual([]);
    // Light that the draw did not read is none of its business.
    const free = drawnBy({});
    expect(told(free.today, free.layout)).toEqual([]);
  });

  it('and still stands on another rack than it was drawn for as stale', () => {
    const { input, layout } = drawnBy({ constraint: { ...balanced, balance: ['light'] } });
    const more = rackOf({ shelves: 3, traysPerShelf: 2, rows: 4, columns: 6 });
    expect(layoutState({ ...input, rack: more }, layout)).toBe('stale');
  });
});

describe('a layout that was drawn before light was kept', () => {
  it('has the bands that it names, whatever the light is now', () => {
    const { today, layout } = drawnBy({
      blocks: { by: 'light', bands: 6 },
      scheme: 'complete-blocks',
    });
    expect(verifyLayout(today, bare(layout))).toEqual({ redrawn: true, differing: [], said: [] });
  });

  it('stands on the light of today where it balanced light, and says so once that has changed', () => {
    const { input, today, layout } = drawnBy({ constraint: { ...balanced, balance: ['light'] } });
    expect(verifyLayout(input, bare(layout)).redrawn).toBe(true);
    expect(layoutState(today, bare(layout))).toBe('stale');
    expect(layoutNotices({ ...today, layout: bare(layout) })[0]?.text).toContain(
      'or the light that the draw used',
    );
  });
});

describe('starting values that the draw balanced', () => {
  const starts = new Map(measuredPots(rack).map(({ id }, i) => [id, 5 + ((i * 7) % 11) / 4]));
  const constraint = { ...balanced, balance: ['start'] as ['start'] };

  it('are kept, so that a corrected one leaves the layout what it is', () => {
    const { input, layout } = drawnBy({ constraint }, starts);
    const corrected = new Map([...starts].map(([id, value], i) => [id, i === 3 ? 9 : value]));
    const later = { ...input, startByPot: corrected };
    expect(verifyLayout(later, layout)).toEqual({ redrawn: true, differing: [], said: [] });
    expect(layoutState(later, bare(layout))).toBe('stale');
  });

  it('are not kept where nothing balanced them', () => {
    const { layout } = drawnBy({}, starts);
    expect(layout.assignments.every(({ startValue }) => startValue === undefined)).toBe(true);
  });
});
