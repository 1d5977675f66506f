import { describe, expect, it } from 'vitest';
import { drawFor, noticesOf } from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import type { Command } from '../../../renderer/document/command';
import {
  addFactor,
  addShelf,
  addTray,
  setGrid,
  setTrial,
} from '../../../renderer/document/commands';
import { emptyPlan, newGrid } from '../../../renderer/document/new';
import type { Plan } from '../../../shared-types/plan';
import type { PotGrid } from '../../../shared-types/rack';

function after<A>(plan: Plan, command: Command<A>, args: A): Plan {
  const done = applyCommand(plan, command, args);
  if (!done.ok) throw new Error(done.reason);
  return done.plan;
}

/** One shelf, one tray, two levels, and nothing chosen beyond that. */
function simplest(change: Partial<PotGrid>, shelves = 1): Plan {
  let plan = emptyPlan('simplest');
  for (let s = 0; s < shelves; s++) {
    plan = after(plan, addShelf, {});
    const shelf = plan.rack.shelves[s];
    if (!shelf) throw new Error('a shelf was added');
    plan = after(plan, addTray, { shelfId: shelf.id });
    const tray = plan.rack.shelves[s]?.trays[0];
    if (!tray) throw new Error('a tray was added');
    plan = after(plan, setGrid, { trayId: tray.id, grid: { ...newGrid(tray), ...change } });
  }
  plan = after(plan, setTrial, {});
  const levels = ['weak', 'strong'];
  return after(plan, addFactor, { name: 'feed', kind: 'randomised', unit: 'pot', levels });
}

describe('the simplest trial', () => {
  it.each([
    { rows: 4, columns: 6 },
    { rows: 3, columns: 5 },
    { rows: 1, columns: 4 },
    { rows: 2, columns: 1 },
  ])('draws at once with $rows × $columns pots, by presets alone', (grid) => {
    const plan = simplest(grid);
    const drawn = drawFor(plan, 'seed', '2026-03-01T09:00:00+00:00');
    if (!drawn.ok) throw new Error(drawn.reason);
    const pots = grid.rows * grid.columns;
    const weak = drawn.value.assignments.filter(
      ({ levels }) => Object.values(levels)[0] === plan.trial?.factors[0]?.levels[0]?.id,
    );
    expect(drawn.value.assignments).toHaveLength(pots);
    expect(Math.abs(weak.length - pots / 2)).toBeLessThan(1);
    const stops = noticesOf({ ...plan, layout: drawn.value }).filter(
      ({ stage, severity }) => (stage === 'trial' || stage === 'layout') && severity === 'stop',
    );
    expect(stops.map(({ text }) => text)).toEqual(pots > 2 ? [] : [expect.any(String)]);
  });

  it('takes the effect of nothing away by its presets', () => {
    expect(simplest({}).trial?.primaryPosition).not.toBe('light');
  });
});
