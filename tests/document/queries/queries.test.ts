import { describe, expect, it } from 'vitest';
import { addShelf, addTray, editLamps, markPots } from '../../../renderer/document/commands';
import {
  lookUp,
  potsToMeasure,
  nameOf,
  parseRef,
  recordProgress,
  refsAdded,
  refsChanged,
  sayPlace,
  sayThings,
  shelfOf,
  walkingCells,
} from '../../../renderer/document/queries';
import { run } from '../../builders/run';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';

describe('names', () => {
  it.each([
    ['plan', 'the plan'],
    ['shelf:s2', 'shelf 2'],
    ['tray:t2', 'tray 2A'],
    ['pot:t2:2:3', 'pot 2A-B3'],
    ['lamp:l1', 'lamp 1 over shelf 1'],
    ['lampKind:k1', 'LED strip'],
    ['factor:f1', 'factor light'],
    ['level:v4', 'level clay'],
    ['measurement:m1', 'fresh weight at start'],
    ['tray:t99', 'tray:t99'],
    ['nonsense', 'nonsense'],
  ])('%s is %s', (ref, name) => {
    expect(nameOf(samplePlan(), ref)).toBe(name);
  });

  it('counts more than two', () => {
    expect(sayThings(samplePlan(), ['tray:t1', 'tray:t2'])).toBe('tray 1A and tray 2A');
    expect(sayThings(samplePlan(), ['shelf:a', 'shelf:b', 'shelf:c'])).toBe('3 shelves');
    expect(sayThings(samplePlan(), ['pot:a', 'shelf:b', 'shelf:c'])).toBe('3 things');
  });
});

describe('places', () => {
  it.each<[PropertyKey[], string]>([
    [['rack', 'shelves', 1, 'trays', 0, 'grid', 'pitchXMm'], 'Tray 2A, grid pitch x (mm)'],
    [['rack', 'lampKinds', 0, 'output', 'efficacyUmolJ'], 'LED strip, output efficacy (µmol/J)'],
    [['trial', 'factors', 0, 'levels', 1, 'name'], 'Level low, name'],
    [['records', 'values', 'm1', 't2:1:3'], 'Records values m1 2A-A3'],
    [['light', 'photoperiodHours'], 'Light photoperiod (hours)'],
    [['acceptedNotices', 0, 'reason'], 'Accepted notices 1 reason'],
    [[], 'The plan'],
  ])('%j', (path, words) => {
    expect(sayPlace(samplePlan(), path)).toBe(words);
  });
});

describe('references', () => {
  it('takes a pot id whole', () => {
    expect(parseRef('pot:t2:1:3')).toEqual({ kind: 'pot', id: 't2:1:3' });
    expect(parseRef('pot:')).toBeNull();
    expect(parseRef('dog:d1')).toBeNull();
  });

  it('looks a selection up and leaves out what is gone', () => {
    const found = lookUp(samplePlan(), ['tray:t1', 'pot:t2:1:3', 'pot:t2:9:9', 'lamp:l9', 'x']);
    expect(found.trays.map(({ tray }) => tray.id)).toEqual(['t1']);
    expect(found.pots.map((pot) => pot.code)).toEqual(['2A-A3']);
    expect([found.shelves, found.lamps]).toEqual([[], []]);
    expect(shelfOf(samplePlan(), 'pot:t2:1:3')?.id).toBe('s2');
  });

  it('names what a command added', () => {
    const before = samplePlan();
    const after = run(run(before, addShelf, {}), addTray, { shelfId: 's10' });
    expect(refsAdded(before, after)).toEqual(['shelf:s10', 'tray:t11']);
    expect(refsAdded(before, before)).toEqual([]);
  });
});

describe('records', () => {
  it('measures the drawn pots, or all but guard pots', () => {
    const plan = samplePlan();
    expect(potsToMeasure(plan)).toHaveLength(12);
    const drawn = drawnPlan();
    const layout = drawn.layout && {
      ...drawn.layout,
      assignments: drawn.layout.assignments.slice(0, 5),
    };
    expect(potsToMeasure({ ...drawn, layout })).toHaveLength(5);
  });

  it('walks the second row backwards', () => {
    const cells = walkingCells(drawnPlan(), 'm1', 't1');
    expect(cells.map(({ pot, plant }) => `${pot.code} ${plant ?? ''}`)).toEqual([
      '1A-A1 P1',
      '1A-A2 P2',
      '1A-A3 P3',
      '1A-B3 P6',
      '1A-B2 P5',
      '1A-B1 P4',
    ]);
  });

  it('adds up', () => {
    let plan = drawnPlan();
    const values = { m1: { 't1:1:1': 3, 't1:1:2': 4 } };
    plan = { ...plan, records: { ...plan.records, values } };
    const mark = { date: null, reason: '' };
    const dead = { potIds: ['t1:1:2', 't1:1:3'], mark: { ...mark, mark: 'dead' as const } };
    plan = run(plan, markPots, dead);
    const progress = recordProgress(plan, 'm1');
    const rest = { missing: 0, excluded: 0 };
    // A pot that died after it was weighed is recorded.
    expect(progress).toEqual([
      { trayId: 't1', pots: 6, recorded: 2, dead: 1, open: 3, ...rest },
      { trayId: 't2', pots: 6, recorded: 0, dead: 0, open: 6, ...rest },
    ]);
  });
});

describe('what was changed', () => {
  it('names the lamp, not the shelf it hangs over, and what is new', () => {
    const plan = samplePlan();
    expect(refsChanged(plan, plan)).toEqual([]);
    const dimmed = run(plan, editLamps, { edits: [{ lampId: 'l1', patch: { dimming: 0.5 } }] });
    expect(refsChanged(plan, dimmed)).toEqual(['lamp:l1']);
    const [shelf] = dimmed.rack.shelves;
    const grown = run(dimmed, addTray, { shelfId: shelf?.id ?? '' });
    expect(refsChanged(dimmed, grown)).toEqual(refsAdded(dimmed, grown));
    // Written anew with the same figures it is what it was.
    expect(refsChanged(plan, structuredClone(plan))).toEqual([]);
  });
});
