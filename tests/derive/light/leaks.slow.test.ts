import { describe, expect, it } from 'vitest';
import { noticesOf } from '../../../renderer/derive';
import { editBoard, editLamps } from '../../../renderer/document/commands';
import { leaksOf, potLight } from '../../../renderer/engine/light';
import type { Plan } from '../../../shared-types/plan';
import { partedAndDrawn } from '../../builders/parted';
import { run } from '../../builders/run';

/** The boards' lower edges at one height, and the lamps of one bay in two dimmed. */
function withEdgesAt(downToMm: number, dimming = 1): Plan {
  let plan = partedAndDrawn();
  for (const shelf of plan.rack.shelves) {
    for (const { id } of shelf.boards ?? []) {
      plan = run(plan, editBoard, { boardId: id, patch: { downToMm } });
    }
    const right = shelf.lamps.filter(({ xMm }) => xMm > 600);
    const edits = right.map(({ id: lampId }) => ({ lampId, patch: { dimming } }));
    plan = run(plan, editLamps, { edits });
  }
  return plan;
}
const leaks = (plan: Plan) => noticesOf(plan).filter(({ kind }) => kind === 'light-leaks');

describe('light of another level', () => {
  it('is the other lamps’ share of all, as computed lamp by lamp', () => {
    const plan = withEdgesAt(300);
    const [shelf] = plan.rack.shelves;
    if (!shelf) throw new Error('the plan has shelves');
    const levels = new Map([
      [shelf.bays?.[0]?.id ?? '', 'one'],
      [shelf.bays?.[1]?.id ?? '', 'other'],
    ]);
    const [left] = leaksOf(shelf, plan.rack, plan.light, levels);
    // Taken by itself: light is a sum over lamps, so that what is left without the right lamps is own.
    const sum = (lamps: typeof shelf.lamps) => {
      const rack = { ...plan.rack, shelves: [{ ...shelf, lamps }] };
      const light = potLight(rack, plan.light);
      const own = [...light.pots.values()].filter(({ potId }) => Number(potId.split(':')[2]) < 5);
      return own.reduce((total, { ppfdUmol }) => total + ppfdUmol, 0);
    };
    const all = sum(shelf.lamps);
    expect(left?.share).toBeCloseTo(1 - sum(shelf.lamps.filter(({ xMm }) => xMm < 600)) / all, 9);
  });

  it('is told where a tenth or more comes beneath a board, and not where it is shut', () => {
    // The canopy is reckoned midway, at 140 mm.
    expect(leaks(withEdgesAt(140, 0.2))).toEqual([]);
    expect(leaks(withEdgesAt(160, 0.2))).toEqual([]);
    const [found] = leaks(withEdgesAt(380, 0.2));
    expect(found?.severity).toBe('warn');
    expect(found?.text).toMatch(
      /^Bay 1 right gets \d\d % of its light from lamps of another level/,
    );
  });
});
