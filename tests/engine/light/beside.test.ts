import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../shared-types/plan';
import { sides, type Facing, type Rack, type Shelf } from '../../../shared-types/rack';
import { addReadings } from '../../../renderer/document/commands';
import { emptyPlan } from '../../../renderer/document/new';
import { lightStamp } from '../../../renderer/engine/lamps';
import {
  lightNotices,
  leakNotices,
  potLight,
  shelfField,
  type PotLight,
} from '../../../renderer/engine/light';
import { baysOf } from '../../../renderer/engine/geometry';
import { run } from '../../builders/run';
import { kind, lamp, lightPlan, shelf, tray } from './racks';

const towards = (shelfId: string, gapMm = 50): Facing => ({ kind: 'shelf', shelfId, gapMm });

/** Two lit shelves side by side; the second one's lamps and the gap are the case's. */
function pair(change: Partial<Shelf> = {}, dimming = 1, gapMm = 50): Rack {
  const lamps = (id: string, dim: number) =>
    [150, 450].map((yMm, i) => lamp({ id: `${id}${i}`, yMm, zMm: 400, dimming: dim }));
  return {
    lampKinds: [kind({ lengthMm: 1100 })],
    shelves: [
      shelf({
        lamps: lamps('a', 0.2),
        trays: [tray()],
        faces: { right: towards('s2', gapMm) },
        ...change,
      }),
      shelf({
        id: 's2',
        number: 2,
        lamps: lamps('b', dimming),
        trays: [tray({ id: 't2', letter: 'B' })],
        faces: { left: towards('s1', gapMm) },
      }),
    ],
  };
}

const meanOf = (rack: Rack) => potLight(rack, lightPlan()).shelves.get('s1')?.evenness?.mean ?? 0;
const levelsOf = (rack: Rack) =>
  new Map(
    rack.shelves.flatMap((s, i) => baysOf(s).map(({ id }) => [id, i === 0 ? 'dim' : 'full'])),
  );

it('light of another level that comes through a side is told from 10 % on, with a board as remedy', () => {
  const told = (rack: Rack) => leakNotices(rack, lightPlan(), levelsOf(rack), 'metric');
  const [found, ...more] = told(pair());
  expect(more).toEqual([]);
  expect(found?.kind).toBe('light-leaks');
  expect(found?.text).toContain('through its open sides');
  expect(found?.remedy).toContain('board');
  // The same lamps at a level alike, far off, or behind a board do not reach a tenth.
  expect(told(pair({}, 0.2))).toEqual([]);
  expect(told(pair({}, 1, 1500))).toEqual([]);
  expect(told(pair({ faces: {} }))).toEqual([]);
});

it('a shelf that faces nothing has the light that it had, to the last digit', () => {
  const [alone] = pair({ faces: {} }).shelves;
  if (!alone) throw new Error('a shelf is expected');
  const { faces: _, ...plain } = alone;
  const request = { heightMm: 0, gridMm: 100 };
  const [one, other] = [alone, plain].map((s) => shelfField(s, [kind()], request).ppfd);
  expect(one).toEqual(other);
  expect(lightStamp(plain, [kind()])).toBe(lightStamp(alone, [kind()]));
  const dark = { ...plain, faces: { right: { kind: 'dark' as const } } };
  expect(shelfField(dark, [kind()], request).ppfd).toEqual(one);
  expect(lightStamp({ ...plain, faces: { right: towards('s2') } }, [kind()])).not.toBe(
    lightStamp(plain, [kind()]),
  );
});

it('lamps of another shelf count for the hours that they burn', () => {
  const rack = pair();
  const [first, second] = rack.shelves;
  if (!first || !second) throw new Error('two shelves are expected');
  const bays = [{ id: 'b9', photoperiodHours: 8 }];
  const short = { ...rack, shelves: [first, { ...second, bays }] };
  const pot = (r: Rack) => potLight(r, lightPlan()).pots.get('t1:1:6');
  const [long, half] = [pot(rack), pot(short)];
  expect(half?.ppfdUmol).toBeCloseTo(long?.ppfdUmol ?? 0, 9);
  const alone = { ...rack, shelves: [{ ...first, faces: {} }] };
  const theirs = (long?.ppfdUmol ?? 0) - (pot(alone)?.ppfdUmol ?? 0);
  // 8 h less of what the other shelf's lamps send, in mol: its own light that comes back is 0.1 % of it.
  const less = (theirs * 8 * 3600) / 1e6;
  expect(((long?.dliMol ?? 0) - (half?.dliMol ?? 0)) / less).toBeCloseTo(1, 2);
});

it('a lit room adds its light, and the ± is wider', () => {
  const lit: Facing = { kind: 'lit', lowestUmol: 10, highestUmol: 30 };
  const faces = { front: lit, back: lit, left: lit, right: lit };
  const open = potLight(pair({ faces: {} }), lightPlan()).shelves.get('s1');
  const inRoom = potLight(pair({ faces }), lightPlan()).shelves.get('s1');
  expect(inRoom?.evenness?.mean ?? 0).toBeGreaterThan((open?.evenness?.mean ?? 0) + 1);
  expect(inRoom?.uncertainty.plusMinusPercent ?? 0).toBeGreaterThan(
    open?.uncertainty.plusMinusPercent ?? NaN,
  );
  expect(lightNotices({ rack: pair({ faces }), light: lightPlan() })).toBeDefined();
});

it('the range that is typed for a lit room widens the ±, a narrow one does not', () => {
  const inRoom = (...ranges: [number, number][]) => {
    const faces = Object.fromEntries(
      sides.flatMap((side, i) => {
        const [lowestUmol, highestUmol] = ranges[i] ?? [];
        if (lowestUmol === undefined || highestUmol === undefined) return [];
        return [[side, { kind: 'lit' as const, lowestUmol, highestUmol }]];
      }),
    );
    const found = potLight(pair({ faces }), lightPlan()).shelves.get('s1');
    const mean = found?.evenness?.mean ?? NaN;
    const plusMinus = found?.uncertainty.plusMinusPercent ?? NaN;
    return { mean, plusMinus, off: (plusMinus / 100) * mean, reason: found?.uncertainty.reason };
  };
  const dark = inRoom();
  const [narrow, wide] = [inRoom([20, 20], [20, 20]), inRoom([0, 40], [0, 40])];
  expect(wide.mean).toBeCloseTo(narrow.mean, 9);
  expect(narrow.off).toBeGreaterThan(dark.off * 0.99);
  expect(narrow.plusMinus).toBeLessThanOrEqual(dark.plusMinus);
  // Half of the range is all that the room sends; the smooth pattern is known as a share of the whole.
  const rooms = narrow.mean - dark.mean;
  // A half range by itself is off by 0.96 to 1.07 of it, as it is even or normal (JCGM 100:2008, G.2).
  const ofRoom = ({ off }: { off: number }) => Math.sqrt(off ** 2 - narrow.off ** 2) / rooms;
  expect(ofRoom(wide)).toBeGreaterThan(0.9);
  expect(ofRoom(wide)).toBeLessThan(1.07);
  expect(wide.reason?.('metric')).toContain('light of the room ±');
  expect(narrow.reason?.('metric')).not.toContain('light of the room');
  // Each side by its own range: one side's half is half of what both send.
  const one = inRoom([20, 20], [0, 40]);
  expect(ofRoom(one)).toBeGreaterThan(0.45);
  expect(ofRoom(one)).toBeLessThan(0.54);
});

it('readings of a shelf that others light are followed', () => {
  const rack = pair({}, 1);
  const before = meanOf(rack);
  const readings = [100, 400, 700, 1000].map((xMm, i) => ({
    id: `r${i}`,
    shelfId: 's1',
    xMm,
    yMm: 300,
    zMm: 0,
    date: null,
    value: 60,
    unit: 'ppfd' as const,
    luxPerPpfd: null,
    note: '',
  }));
  const light = potLight(rack, { ...lightPlan(), readings });
  expect(light.problems.size).toBe(0);
  expect(Number.isFinite(light.shelves.get('s1')?.evenness?.mean)).toBe(true);
  expect(before).toBeGreaterThan(0);
});

describe('readings of a shelf that faces a lit one', () => {
  const change = (rack: Rack, id: string, patch: Partial<Shelf>): Rack => ({
    ...rack,
    shelves: rack.shelves.map((s) => (s.id === id ? { ...s, ...patch } : s)),
  });
  /** The pair, a third shelf that nobody faces, and a reading of the first as it is then. */
  const third = shelf({ id: 's3', number: 3, lamps: [lamp({ id: 'c0', zMm: 400 })], trays: [] });
  const rack: Rack = { ...pair(), shelves: [...pair().shelves, third] };
  const plan: Plan = { ...emptyPlan('beside'), nextId: 100, rack, light: lightPlan() };
  const reading = { shelfId: 's1', xMm: 400, yMm: 300, zMm: 0, date: null, note: '' };
  const readings = run(plan, addReadings, {
    readings: [{ ...reading, value: 1.1 * meanOf(rack), unit: 'ppfd', luxPerPpfd: null }],
  }).light.readings;
  const outdated = (now: Rack) => potLight(now, { ...lightPlan(), readings }).outdated.size;
  const second = rack.shelves[1];
  if (!second) throw new Error('two shelves are expected');
  const dimmed = (lamps: Shelf['lamps']) => lamps.map((one) => ({ ...one, dimming: 0.5 }));

  it('hold as long as its lamps stay, and those of a shelf that it does not face may change', () => {
    expect(outdated(rack)).toBe(0);
    expect(outdated(change(rack, 's3', { lamps: dimmed(third.lamps) }))).toBe(0);
    expect(outdated(change(rack, 's2', { trays: [], number: 9 }))).toBe(0);
  });

  it('are of other light once its lamps, boards or height change', () => {
    expect(outdated(change(rack, 's2', { lamps: dimmed(second.lamps) }))).toBe(1);
    expect(outdated(change(rack, 's2', { heightMm: second.heightMm + 50 }))).toBe(1);
    const reflectances = { ...second.reflectances, back: 0.85 };
    expect(outdated(change(rack, 's2', { reflectances }))).toBe(1);
  });

  it('are carried over to what a treatment makes of its lamps, from the shelf beside as drawn', () => {
    const treated = { ...second, drawn: second, lamps: dimmed(second.lamps) };
    const scaled = (now: Rack) => potLight(now, { ...lightPlan(), readings });
    const now = scaled({ ...rack, shelves: [...rack.shelves.slice(0, 1), treated, third] });
    expect(now.outdated.size).toBe(0);
    const factor = (light: PotLight) => light.calibrations.get('s1')?.scales[0]?.scale ?? NaN;
    expect(factor(now)).toBeCloseTo(factor(scaled(rack)), 12);
    const mean = (light: PotLight) => light.shelves.get('s1')?.evenness?.mean ?? NaN;
    expect(mean(now)).toBeLessThan(mean(scaled(rack)));
  });
});
