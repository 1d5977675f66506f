import { describe, expect, it } from 'vitest';
import { bind } from '../../../renderer/document/compose';
import * as commands from '../../../renderer/document/commands';
import { findInconsistency, readPlan, writePlan } from '../../../renderer/document/open';
import { baysOf, potsOfRack } from '../../../renderer/engine/geometry';
import type { Board } from '../../../shared-types/rack';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';
import { label, refusal, run } from '../../builders/run';

// Shelves of 1200 × 600 mm; the sample's pots are 100 mm across and 120 mm apart.
const board = (change: Partial<Board> = {}): Omit<Board, 'id'> => ({
  direction: 'across',
  atMm: 600,
  thicknessMm: 18,
  reflectance: 0.85,
  downToMm: 90,
  ...change,
});
const bays = (plan: ReturnType<typeof samplePlan>, shelf = 0) => {
  const found = plan.rack.shelves[shelf];
  if (!found) throw new Error('the sample has two shelves');
  return baysOf(found);
};
const both = { shelfIds: ['s1', 's2'] };

describe('boards', () => {
  it('part shelves into bays, left from right', () => {
    const plan = run(samplePlan(), commands.addBoard, { ...both, board: board() });
    expect(
      bays(plan).map(({ name, rect }) => [name, rect.xMm, rect.widthMm, rect.depthMm]),
    ).toEqual([
      ['1 left', 0, 591, 600],
      ['1 right', 609, 591, 600],
    ]);
    expect(bays(plan)[0].id).toBe(bays(samplePlan())[0].id);
    expect(new Set([...bays(plan), ...bays(plan, 1)].map(({ id }) => id)).size).toBe(4);
    expect(findInconsistency(plan)).toBeNull();
    expect(label(plan, commands.addBoard, { ...both, board: board() })).toBe(
      'Add board to shelf 1 and shelf 2',
    );
  });

  it('part front from back too, and cross', () => {
    let plan = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: board() });
    const [left, right] = bays(plan);
    plan = run(plan, commands.addBoard, {
      shelfIds: ['s1'],
      board: board({ direction: 'lengthwise', atMm: 300 }),
    });
    const now = bays(plan);
    expect(now.map(({ name }) => name)).toEqual([
      '1 front left',
      '1 front right',
      '1 back left',
      '1 back right',
    ]);
    expect([now[0].id, now[1]?.id]).toEqual([left.id, right?.id]);
  });

  it('keep the ids of bays when they move, and give them up with the board', () => {
    const one = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: board() });
    const [boardId = ''] = one.rack.shelves[0]?.boards?.map(({ id }) => id) ?? [];
    const moved = run(one, commands.moveItems, { items: [`board:${boardId}`], dxMm: 80, dyMm: 7 });
    expect(bays(moved).map(({ id }) => id)).toEqual(bays(one).map(({ id }) => id));
    expect(bays(moved)[0].rect.widthMm).toBe(671);
    const gone = run(moved, commands.removeItems, { items: [`board:${boardId}`] });
    expect(gone.rack.shelves).toEqual(samplePlan().rack.shelves);
  });

  it('empty the holes they stand over, and fill them again when they go', () => {
    const plan = samplePlan();
    const [pot] = potsOfRack(plan.rack);
    if (!pot) throw new Error('the sample has pots');
    const over = { shelfIds: ['s1'], board: board({ atMm: pot.xMm + 58.9 }) };
    const near = { shelfIds: ['s1'], board: board({ atMm: pot.xMm + 60 }) };
    const cut = run(plan, commands.addBoard, over);
    expect(potsOfRack(cut.rack).some(({ id }) => id === pot.id)).toBe(false);
    const narrow = run(plan, commands.addBoard, near);
    // The next pot is 120 mm on: its rim is 60 − 59 mm from the board's middle.
    expect(potsOfRack(narrow.rack).some(({ id }) => id === pot.id)).toBe(true);
    const [boardId = ''] = cut.rack.shelves[0]?.boards?.map(({ id }) => id) ?? [];
    const away = run(cut, commands.editBoard, { boardId, patch: { atMm: 1100 } });
    expect(potsOfRack(away.rack)).toHaveLength(potsOfRack(plan.rack).length);
  });

  it('put a pot into the bay of its centre', () => {
    const plan = samplePlan();
    const pots = potsOfRack(plan.rack).filter(({ shelfId }) => shelfId === 's1');
    const [first, second] = pots;
    if (!first || !second) throw new Error('the sample has pots');
    const between = (first.xMm + second.xMm) / 2;
    const parted = run(plan, commands.addBoard, {
      shelfIds: ['s1'],
      board: board({ atMm: between, thicknessMm: 10 }),
    });
    const [left, right] = bays(parted);
    const where = new Map(potsOfRack(parted.rack).map((pot) => [pot.id, pot.bayId]));
    for (const pot of pots) {
      expect(where.get(pot.id)).toBe(pot.xMm < between ? left.id : right?.id);
    }
  });

  it('are copied to other shelves in one act', () => {
    let plan = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: board() });
    plan = run(plan, commands.copyBoards, { fromShelfId: 's1', toShelfIds: ['s2'] });
    expect(bays(plan, 1).map(({ name }) => name)).toEqual(['2 left', '2 right']);
    expect(findInconsistency(plan)).toBeNull();
    const twin = run(plan, commands.duplicateShelf, { shelfId: 's1' });
    expect(bays(twin, 2).map(({ name }) => name)).toEqual(['3 left', '3 right']);
    expect(findInconsistency(twin)).toBeNull();
  });

  it('are refused where they leave no room, and stand inside their shelf', () => {
    const plan = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: board() });
    const add = (change: Partial<Board>) =>
      refusal(plan, commands.addBoard, {
        shelfIds: ['s1'],
        board: board({ atMm: 300, ...change }),
      });
    expect(add({ atMm: 637 })).toBe(
      'Shelf 1, boards: found a bay of 19 mm between boards and sides, expected at least 20 mm.',
    );
    expect(add({ atMm: 638 })).toBe('done');
    expect(add({ atMm: 1190 })).toMatch(/a bay of 1 mm/);
    expect(refusal(plan, commands.editShelf, { shelfId: 's1', patch: { widthMm: 620 } })).toMatch(
      /a bay of 11 mm/,
    );
    expect(add({ downToMm: 450 })).toMatch(/a board from 450 mm up/);
  });

  it('have timers of their own, which go with the file', () => {
    let plan = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: board() });
    const [, right] = bays(plan);
    plan = run(plan, commands.setBayHours, { shelfId: 's1', bayId: right?.id ?? '', hours: 12 });
    expect(bays(plan).map(({ photoperiodHours }) => photoperiodHours)).toEqual([null, 12]);
    const read = readPlan(writePlan(plan));
    expect(read.ok && read.plan).toEqual(plan);
    const whole = run(samplePlan(), commands.setBayHours, {
      shelfId: 's2',
      bayId: 'b2',
      hours: 10,
    });
    expect(bays(whole, 1)[0].photoperiodHours).toBe(10);
    const back = run(whole, commands.setBayHours, { shelfId: 's2', bayId: 'b2', hours: null });
    expect(back.rack).toEqual(samplePlan().rack);
  });

  it('stay where they are once the pots beneath them are planted', () => {
    const args = { shelfIds: ['s1'], board: board({ atMm: 145 }) };
    expect(refusal(drawnPlan('2026-03-02'), commands.addBoard, args)).toMatch(
      /Pot 1A-A1 is planted since 2026-03-02 and would vanish|come under other lamps/,
    );
    const clear = { shelfIds: ['s1'], board: board({ atMm: 1150 }) };
    expect(refusal(drawnPlan('2026-03-02'), commands.addBoard, clear)).toContain('stays as then');
    const edit = bind(commands.addBoard, clear);
    const asked = { edit, date: '2026-03-09', reason: 'draught' };
    expect(refusal(drawnPlan('2026-03-02'), commands.correctPlanted, asked)).toBe('done');
  });
});

describe('lamps in the way of a board', () => {
  it('become shorter ones, built alike, one in each bay', () => {
    const parted = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: board() });
    const plan = run(parted, commands.partLamps, { shelfId: 's1' });
    const shelf = plan.rack.shelves[0];
    if (!shelf) throw new Error('the sample has two shelves');
    // A strip of 1150 mm from 25 to 1175 mm; the board takes 591 to 609 mm, and ends keep 10 mm off.
    const kinds = new Map(plan.rack.lampKinds.map((kind) => [kind.id, kind]));
    expect(shelf.lamps.map(({ xMm, kindId }) => [xMm, kinds.get(kindId)?.lengthMm])).toEqual([
      [303, 556],
      [897, 556],
    ]);
    const [short] = shelf.lamps;
    const kind = kinds.get(short?.kindId ?? '');
    expect(kind?.powerW).toBeCloseTo((36 * 556) / 1150, 9);
    expect(plan.rack.shelves[1]?.lamps).toEqual(parted.rack.shelves[1]?.lamps);
    expect(findInconsistency(plan)).toBeNull();
  });

  it('stay where they are if they pass', () => {
    const along = board({ direction: 'lengthwise', atMm: 150 });
    const parted = run(samplePlan(), commands.addBoard, { shelfIds: ['s1'], board: along });
    expect(run(parted, commands.partLamps, { shelfId: 's1' }).rack).toEqual(parted.rack);
  });
});
