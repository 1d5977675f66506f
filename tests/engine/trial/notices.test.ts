import { describe, expect, it } from 'vitest';
import {
  drawLayout,
  drawnSite,
  layoutNotices,
  startNotices,
  trialNotices,
} from '../../../renderer/engine/trial';
import type { TrialInput } from '../../../renderer/engine/trial';
import {
  domedLight,
  drawn,
  factorOf,
  inputOf,
  rackOf,
  soundSplitPlot,
  trialOf,
} from '../../builders/trialInput';

const kinds = (input: TrialInput) => trialNotices({ ...input, layout: null }).map((n) => n.kind);

const drawnNotices = (input: TrialInput, seed: string) => {
  const { layout } = drawLayout({ ...input, ...drawn, seed });
  return [...trialNotices({ ...input, layout }), ...layoutNotices({ ...input, layout })];
};

describe('trial notices', () => {
  it('are silent about a sound plan, before and after the draw, for any seed', () => {
    const input = soundSplitPlot();
    expect(trialNotices({ ...input, layout: null })).toEqual([]);
    for (let seed = 0; seed < 40; seed++) expect(drawnNotices(input, `s${seed}`)).toEqual([]);
  });

  it('are silent about a trial without factors', () => {
    const input = inputOf(
      rackOf({ shelves: 1, traysPerShelf: 1, rows: 3, columns: 3 }),
      trialOf([]),
    );
    expect(trialNotices({ ...input, layout: null })).toEqual([]);
    expect(layoutNotices({ ...input, layout: null })).toEqual([]);
  });

  it('stop a light treatment on two shelves, in plain words', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 4 });
    const light = factorOf(1, 'shelf', 2, { name: 'Light' });
    const [first] = trialNotices({ ...inputOf(rack, trialOf([light])), layout: null });
    expect(first).toMatchObject({
      kind: 'factor-not-replicated',
      severity: 'stop',
      about: ['factor:f1'],
    });
    expect(first?.text).toContain('Light is not replicated');
    expect(first?.text).toContain('A difference between these two shelves could be the shelves');
    expect(first?.remedy).toContain('swap the levels');
  });

  it('stop a tray treatment with one tray a level, also as main plot of a single block', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 3, rows: 4, columns: 4 });
    expect(kinds(inputOf(rack, trialOf([factorOf(1, 'tray', 3)])))).toEqual([
      'factor-not-replicated',
    ]);
    const split = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 2)], {
      scheme: 'split-plot',
      blocks: { by: 'shelf' },
    });
    expect(kinds(inputOf(rack, split))).toEqual(['factor-not-replicated']);
  });

  it('warn of few error df and stop where none is left', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 4 });
    const two = (levels: number[]) =>
      trialNotices({
        ...inputOf(rack, trialOf(levels.map((n, i) => factorOf(i + 1, 'tray', n)))),
        layout: null,
      }).map((n) => [n.kind, n.severity]);
    expect(two([2])).toEqual([['unit-too-few-df', 'warn']]);
    expect(two([2, 2])).toEqual([
      ['unit-too-few-df', 'stop'],
      ['unit-too-few-df', 'stop'],
    ]);
  });

  it('stop given factors that go together', () => {
    const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 4, columns: 4 });
    const where = (prefix: string) =>
      ['s1', 's2', 's3', 's4'].map((unitId, i) => ({
        unitId,
        levelId: `${prefix}0${(i % 2) + 1}`,
      }));
    const lamp = factorOf(1, 'shelf', 2, { kind: 'fixed', where: where('l1') });
    const species = factorOf(2, 'shelf', 2, { kind: 'fixed', where: where('l2') });
    expect(kinds(inputOf(rack, trialOf([lamp, species])))).toContain('factors-confounded');
    const told = trialNotices({ ...inputOf(rack, trialOf([lamp, species])), layout: null });
    const [a, b] = [lamp, species].map(({ levels }) => levels.map(({ name }) => name));
    expect(told.map(({ text }) => text).join()).toContain(
      `go together: ${a?.[0]} stands only with ${b?.[0]}, ${a?.[1]} only with ${b?.[1]}. Whatever differs could be either.`,
    );
    const [first, second] = [where('l1'), where('l2')];
    const crossed = second.map((entry, i) => ({ ...entry, levelId: i < 2 ? 'l201' : 'l202' }));
    const other = factorOf(2, 'shelf', 2, { kind: 'fixed', where: crossed });
    expect(first).not.toEqual(second);
    expect(kinds(inputOf(rack, trialOf([lamp, other])))).not.toContain('factors-confounded');
  });

  it('warn where a treatment stands in other light', () => {
    const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 4, columns: 6 });
    // Left half of every shelf is given one level: the lamp hangs over the right half.
    const where = rack.shelves.flatMap((shelf) =>
      shelf.trays.flatMap((tray) =>
        [1, 2, 3, 4].flatMap((row) =>
          [1, 2, 3, 4, 5, 6].map((column) => ({
            unitId: `${tray.id}:${row}:${column}`,
            levelId: column <= 3 ? 'l101' : 'l102',
          })),
        ),
      ),
    );
    const trial = trialOf([factorOf(1, 'pot', 2, { kind: 'fixed', where })]);
    const light = new Map(where.map((w) => [w.unitId, w.levelId === 'l101' ? 100 : 130]));
    const [first] = trialNotices({ ...inputOf(rack, trial, light), layout: null });
    expect(first?.kind).toBe('treatment-confounded-with-light');
    expect(first?.text).toContain('Level 1 100 and Level 2 130');
    // 30 over a mean of 115.
    expect(first?.text).toContain('26 %');
  });

  it('note groups that are no multiple of the treatments', () => {
    const rack = rackOf({ shelves: 3, traysPerShelf: 1, rows: 2, columns: 7 });
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    const [first] = trialNotices({ ...inputOf(rack, trial), layout: null });
    expect(first).toMatchObject({ kind: 'unequal-replication', severity: 'note' });
    expect(first?.text).toContain('14 pots');
  });

  it('stop small blocks, misfitting schemes, missing light and empty racks', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 2, columns: 2 });
    const small = trialOf([factorOf(1, 'pot', 5)], {
      blocks: { by: 'tray' },
      scheme: 'complete-blocks',
    });
    expect(kinds(inputOf(rack, small))).toContain('block-too-small');
    const mixed = trialOf([factorOf(1, 'tray', 2), factorOf(2, 'pot', 2)]);
    expect(kinds(inputOf(rack, mixed))).toContain('scheme-does-not-fit');
    const dark = trialOf([factorOf(1, 'pot', 2)], {
      blocks: { by: 'light', bands: 4 },
      scheme: 'complete-blocks',
    });
    expect(kinds(inputOf(rack, dark))).toEqual(['scheme-does-not-fit']);
    expect(kinds(inputOf(rack, trialOf([factorOf(1, 'pot', 9)])))).toEqual([
      'unequal-replication',
      'too-few-pots',
    ]);
    expect(kinds(inputOf(rack, trialOf([factorOf(1, 'pot', 17)])))).toContain('too-few-pots');
    const bare = { ...rack, shelves: [] };
    expect(kinds(inputOf(bare, trialOf([factorOf(1, 'pot', 2)])))).toContain('too-few-pots');
  });

  it('warn of unequal edge shares and starting sizes in a drawn layout', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 4, columns: 4 });
    const trial = trialOf([factorOf(1, 'pot', 2)]);
    const input = inputOf(rack, trial);
    const { layout } = drawLayout({ ...input, ...drawn, seed: 'edge' });
    const inner = (id: string) => /:[23]:[23]$/.test(id);
    const startByPot = new Map(
      layout.assignments.map((a, i) => [a.potId, inner(a.potId) ? 3 : 2 + (i % 2) / 10]),
    );
    const assignments = layout.assignments.map((a, i) => ({
      ...a,
      levels: { f1: inner(a.potId) || i % 3 === 0 ? 'l101' : 'l102' },
    }));
    const unequal = { ...input, layout: { ...layout, assignments }, startByPot };
    const found = [
      ...trialNotices(unequal),
      ...startNotices(unequal, drawnSite(unequal, unequal.layout)),
    ];
    expect(found.map((n) => n.kind)).toEqual(['edge-share-unequal', 'start-size-unbalanced']);
  });
});

describe('layout notices', () => {
  it('tell a missing, a stale and an altered layout', () => {
    const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 4, columns: 4 });
    const trial = trialOf([factorOf(1, 'pot', 4)], {
      blocks: { by: 'shelf' },
      scheme: 'complete-blocks',
    });
    const input = inputOf(rack, trial, domedLight(rack, 0.2));
    const { layout } = drawLayout({ ...input, ...drawn, seed: 'x' });
    const kindsOf = (on: TrialInput, of: typeof layout | null) =>
      layoutNotices({ ...on, layout: of }).map((n) => n.kind);
    expect(kindsOf(input, null)).toEqual(['layout-missing']);
    expect(kindsOf(input, layout)).toEqual([]);
    const changed = { ...input, trial: { ...trial, blocks: { by: 'tray' as const } } };
    expect(kindsOf(changed, layout)).toEqual(['layout-stale']);
    // What came or went since the draw is named.
    const bigger = (traysPerShelf: number, rows = 4) => ({
      ...input,
      rack: rackOf({ shelves: 2, traysPerShelf, rows, columns: 4 }),
    });
    const said = (on: TrialInput) =>
      layoutNotices({ ...on, layout }).find(({ kind }) => kind === 'layout-stale')?.text;
    const [wide] = bigger(2).rack.shelves;
    const [, narrow] = rack.shelves;
    if (!wide || !narrow) throw new Error('two shelves are built');
    expect(said({ ...input, rack: { ...rack, shelves: [wide, narrow] } })).toBe(
      'Tray 1B was added after the draw; its 16 pots have no treatment.',
    );
    expect(said(bigger(2))).toBe(
      '32 pots in tray 1B and tray 2B came after the draw and have no treatment.',
    );
    expect(said(bigger(1, 3))).toBe('8 drawn pots are no longer measured.');
    expect(said(changed)).toBe('Blocks or factors have changed since the layout was drawn.');
    const remedy = (recorded: boolean) =>
      layoutNotices({ ...changed, layout, recorded })[0]?.remedy ?? '';
    expect(remedy(false)).toMatch(/^Draw the layout again/);
    // Where records stand, another draw is not a way out.
    expect(remedy(true)).toMatch(/^Undo the change, .* would change the treatments/);
    const [first, ...rest] = layout.assignments;
    if (!first) throw new Error('a drawn pot is expected');
    const level = first.levels.f1 === 'l101' ? 'l102' : 'l101';
    const altered = { ...layout, assignments: [{ ...first, levels: { f1: level } }, ...rest] };
    const [notice] = layoutNotices({ ...input, layout: altered });
    expect(notice).toMatchObject({
      kind: 'layout-altered',
      severity: 'stop',
      about: [`pot:${first.potId}`],
    });
  });
});
