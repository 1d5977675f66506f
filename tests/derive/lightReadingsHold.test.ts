import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { noticesOf, outdatedReadingsOf, potLightOf } from '../../renderer/derive';
import { applyCommand } from '../../renderer/document/apply';
import type { Command } from '../../renderer/document/command';
import { addReadings, editLamps, editShelf, keepReadings } from '../../renderer/document/commands';
import { readPlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';

const url = new URL('../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok) throw new Error('the demo opens');
const demo = read.plan;

function after<Args>(plan: Plan, command: Command<Args>, args: Args): Plan {
  const outcome = applyCommand(plan, command, args);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.plan;
}
const [shelf] = demo.rack.shelves;
const [lamp] = shelf?.lamps ?? [];
if (!shelf || !lamp) throw new Error('the demo has a lamp');
const hungAt = (plan: Plan, zMm: number) =>
  after(plan, editLamps, { edits: [{ lampId: lamp.id, patch: { zMm } }] });
const sourceOf = (plan: Plan) => potLightOf(plan).shelves.get(shelf.id)?.source;
const meanOf = (plan: Plan) => potLightOf(plan).shelves.get(shelf.id)?.evenness?.mean ?? NaN;
const kinds = (plan: Plan) => noticesOf(plan).map((notice) => notice.kind);

// Readings are common practice: they tell of the lamps as they hung, nothing else.
describe('readings', () => {
  it('hold for the lamps that they were taken of', () => {
    expect(sourceOf(demo)).toBe('calibrated');
    const moved = hungAt(demo, lamp.zMm - 40);
    expect(sourceOf(moved)).toBe('estimated');
    expect(outdatedReadingsOf(moved)).toHaveLength(9);
    expect(kinds(moved)).toContain('readings-outdated');
    expect(kinds(moved)).not.toContain('no-readings');
    const back = hungAt(moved, lamp.zMm);
    expect(sourceOf(back)).toBe('calibrated');
    expect(kinds(back)).not.toContain('readings-outdated');
  });

  it('never make brighter sides darker', () => {
    const unread = { ...demo, light: { ...demo.light, readings: [] } };
    const reflectances = { ...shelf.reflectances, left: 0.85, right: 0.85 };
    const white = after(demo, editShelf, { shelfId: shelf.id, patch: { reflectances } });
    expect(meanOf(white)).toBeGreaterThan(meanOf(unread));
    expect(meanOf(white)).toBeGreaterThan(meanOf(demo));
  });

  it('hold again where it is said so, and where others are taken', () => {
    const moved = hungAt(demo, lamp.zMm - 40);
    const kept = after(moved, keepReadings, { readingIds: outdatedReadingsOf(moved) });
    expect(sourceOf(kept)).toBe('calibrated');
    const reading = { ...demo.light.readings[0], value: 150 };
    const { shelfId = shelf.id, xMm = 0, yMm = 0, zMm = 0, value } = reading;
    const fresh = { shelfId, xMm, yMm, zMm, value, unit: 'ppfd' as const, luxPerPpfd: null };
    const again = after(moved, addReadings, { readings: [{ ...fresh, date: null, note: '' }] });
    expect(potLightOf(again).calibrations.get(shelf.id)?.used).toBe(1);
    expect(outdatedReadingsOf(again)).toHaveLength(9);
  });

  it('without a mark count as taken of what is there', () => {
    const old = {
      ...demo,
      light: {
        ...demo.light,
        readings: demo.light.readings.map(({ of: _, ...reading }) => reading),
      },
    };
    const moved = hungAt(old, lamp.zMm - 40);
    expect(sourceOf(moved)).toBe('calibrated');
  });
});
