import { describe, expect, it } from 'vitest';
import * as commands from '../../../renderer/document/commands';
import { planSchema } from '../../../shared-types/plan';
import { samplePlan } from '../../builders/samplePlan';
import { refusal, run } from '../../builders/run';

const { copySides, setFacing, removeShelves } = commands;
const across = (shelfId: string) => ({ kind: 'shelf' as const, shelfId, gapMm: 50 });

describe('what a side faces', () => {
  it('is the same seen from both shelves, and kept in the file', () => {
    const [first, second] = samplePlan().rack.shelves;
    if (!first || !second) throw new Error('two shelves are expected');
    const plan = setFacing.run(samplePlan(), {
      shelfId: first.id,
      side: 'right',
      facing: across(second.id),
    });
    expect(plan.rack.shelves[0]?.faces).toEqual({ right: across(second.id) });
    expect(plan.rack.shelves[1]?.faces).toEqual({ left: across(first.id) });
    expect(planSchema.parse(plan).rack).toEqual(plan.rack);
    const back = setFacing.run(plan, {
      shelfId: second.id,
      side: 'left',
      facing: { kind: 'wall', reflectance: 0.8, distanceMm: 100 },
    });
    expect(back.rack.shelves[0]?.faces).toEqual({ right: { kind: 'dark' } });
    const matt = setFacing.run(back, {
      shelfId: first.id,
      side: 'right',
      facing: { kind: 'matt' },
    });
    expect(matt.rack.shelves[0]).toEqual(first);
    const gone = removeShelves.run(plan, { shelfIds: [second.id] });
    expect(gone.rack.shelves[0]?.faces).toEqual({ right: { kind: 'dark' } });
  });

  it('is the same for other shelves, but for a shelf that is named', () => {
    const wall = { kind: 'wall' as const, reflectance: 0.8, distanceMm: 100 };
    let plan = run(samplePlan(), commands.addShelf, {});
    const [, , third] = plan.rack.shelves;
    if (!third) throw new Error('three shelves are expected');
    plan = run(plan, setFacing, { shelfId: 's1', side: 'right', facing: across('s2') });
    plan = run(plan, setFacing, { shelfId: 's1', side: 'left', facing: wall });
    plan = run(plan, setFacing, { shelfId: 's1', side: 'back', facing: { kind: 'dark' } });
    plan = run(plan, setFacing, { shelfId: third.id, side: 'front', facing: wall });
    const reflectances = { above: 0.7, canopy: 0.1, front: 0.85, back: 0, left: 0.5, right: 0 };
    plan = run(plan, commands.editShelf, { shelfId: 's1', patch: { reflectances } });
    const after = run(plan, copySides, { fromShelfId: 's1', toShelfIds: ['s2', third.id] });
    const [first, second, last] = after.rack.shelves;
    expect(first).toEqual(plan.rack.shelves[0]);
    // The second one's left side faces the first, and still does.
    expect(second?.faces).toEqual({ left: across('s1'), back: { kind: 'dark' } });
    expect(last?.faces).toEqual({ left: wall, back: { kind: 'dark' } });
    expect([second?.reflectances, last?.reflectances]).toEqual([reflectances, reflectances]);
    const plain = run(samplePlan(), setFacing, { shelfId: 's2', side: 'left', facing: wall });
    const bare = run(plain, copySides, { fromShelfId: 's1', toShelfIds: ['s2'] });
    expect(bare.rack.shelves[1]).not.toHaveProperty('faces');
  });

  it('is never the shelf itself, and a range of light begins at its lower end', () => {
    const plan = samplePlan();
    const facing = across('s1');
    expect(refusal(plan, setFacing, { shelfId: 's1', side: 'left', facing })).toMatch(/itself/);
    const lit = (lowestUmol: number, highestUmol: number) => ({
      shelfId: 's1',
      side: 'left' as const,
      facing: { kind: 'lit' as const, lowestUmol, highestUmol },
    });
    expect(refusal(plan, setFacing, lit(30, 20))).toMatch(/lower figure/);
    expect(refusal(plan, setFacing, lit(20, 20))).toBe('done');
  });
});
