import { describe, expect, it } from 'vitest';
import {
  directLight,
  jobs,
  lightIntervalsOf,
  noticesOf,
  outdatedReadingsOf,
  potLightOf,
  readingRowsOf,
} from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import type { Command } from '../../../renderer/document/command';
import {
  addReadings,
  editLamps,
  editShelf,
  keepReadings,
} from '../../../renderer/document/commands';
import { lightStamp } from '../../../renderer/engine/lamps';
import type { Plan } from '../../../shared-types/plan';
import { undrawn } from '../../builders/examplePlans';

// Nothing is planted yet: later the lamps are corrected with a date, not rehung.
const demo: Plan = undrawn('basil');

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

// Common practice: a reading tells of the lamps as they hung when it was taken, and of no others.
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
        readings: demo.light.readings.map(unstamped),
      },
    };
    const moved = hungAt(old, lamp.zMm - 40);
    expect(sourceOf(moved)).toBe('calibrated');
  });

  it('stay listed where the shelf is estimated, with the reason', () => {
    const rows = readingRowsOf(hungAt(demo, lamp.zMm - 40));
    expect(rows.filter((row) => row.outdated).map((row) => row.shelfNumber)).toEqual(
      Array.from({ length: 9 }, () => shelf.number),
    );
    expect(readingRowsOf(demo).some((row) => row.outdated)).toBe(false);
  });

  it('settle the factor of lumens, whatever its published range', () => {
    const kind = demo.rack.lampKinds[0];
    if (!kind) throw new Error('no lamp kind');
    // 57.6 µmol/s, as the demo's strip of 24 W at 2.4 µmol/J gives.
    const output = { kind: 'lumens', lumens: 4032, lumensPerUmolS: 70, lowest: 62, highest: 76 };
    const lumens = { ...kind, output } as typeof kind;
    const ranged = { ...demo, rack: { ...demo.rack, lampKinds: [lumens] } };
    expect(sourceOf(ranged)).toBe('calibrated');
    expect(lightIntervalsOf(ranged).size).toBe(0);
    // Moved, shelf 1 is estimated again: its pots, and no others, have the range.
    const moved = hungAt(ranged, lamp.zMm - 40);
    expect([...lightIntervalsOf(moved).keys()].every((id) => /^t1[123]:/.test(id))).toBe(true);
    expect(lightIntervalsOf(moved).size).toBe(72);
  });
});

/** The demo with its first shelf's lamps giving `share` of their figures, everywhere alike. */
function givingShare(share: number): Plan {
  const bare = { ...demo, light: { ...demo.light, readings: [] } };
  const readings = demo.light.readings.map((reading) => {
    const put = readingRowsOf(demo).find((row) => row.reading.id === reading.id)?.checked;
    return { ...reading, value: (put?.estimatedUmol ?? NaN) * share };
  });
  return { ...bare, light: { ...bare.light, readings } };
}

// What lamps give against their label belongs to the lamps, not to where they hang.
describe('what is tried keeps the scale that readings found', () => {
  const bare: Plan = { ...demo, light: { ...demo.light, readings: [] } };
  const { lampKinds } = demo.rack;

  it.each([0.8, 1.25])('open and white sides of lamps that give %d of their label', (share) => {
    const plan = givingShare(share);
    const compared = (light: Plan['light']) =>
      jobs.lightSides({ shelf, lampKinds, light }, () => undefined);
    const means = compared(plan.light).map((row) => row.evenness?.mean ?? NaN);
    const figures = compared(bare.light).map((row) => row.evenness?.mean ?? NaN);
    expect(compared(plan.light).map((row) => row.scaled)).toEqual([true, true, true]);
    expect(compared(bare.light).map((row) => row.scaled)).toEqual([false, false, false]);
    expect(means[1]).toBeCloseTo(meanOf(plan), 3);
    means.forEach((mean, i) => expect(mean / (figures[i] ?? NaN)).toBeCloseTo(share, 3));
    expect(means[2]).toBeGreaterThan(meanOf(plan));
  });

  it('proposed places are dimmed for what the lamps give', () => {
    const [kind] = lampKinds;
    if (!kind) throw new Error('no lamp kind');
    const asked = {
      shelf,
      lampKinds,
      kind,
      count: 4,
      perRow: 1,
      targetMeanUmol: 120,
      canopyAt: 'midway' as const,
      limits: { aboveCanopyMm: 160, highestMm: 420, fromSidesMm: 30, apartMm: 60 },
    };
    const plan = givingShare(0.8);
    const found = jobs.arrange({ ...asked, readings: plan.light.readings }, () => undefined);
    const blind = jobs.arrange(asked, () => undefined);
    expect(found.before?.evenness.mean).toBeCloseTo(0.8 * (blind.before?.evenness.mean ?? NaN), 0);
    expect([found.after.evenness.mean, blind.after.evenness.mean]).toEqual([
      expect.closeTo(120, 3),
      expect.closeTo(120, 3),
    ]);
    const dimming = (answer: typeof found) => answer.after.lamps[0]?.dimming ?? NaN;
    expect(0.8 * dimming(found)).toBeCloseTo(dimming(blind), 3);
  });

  it('a lamp that is dragged gives what it gave before', () => {
    const plan = givingShare(0.8);
    const dragged = hungAt(plan, lamp.zMm - 40);
    const direct = (of: Plan, settled: Plan) =>
      potLightOf(of, directLight(settled)).shelves.get(shelf.id);
    const blind = direct(hungAt(bare, lamp.zMm - 40), bare)?.evenness?.mean ?? NaN;
    expect(direct(dragged, plan)?.evenness?.mean).toBeCloseTo(0.8 * blind, 0);
    expect(direct(dragged, plan)?.source).toBe('estimated');
    // Without a stamp too: a refit would have put the readings' old level under the moved lamp.
    const old = { ...plan, light: { ...plan.light, readings: plan.light.readings.map(unstamped) } };
    const oldDragged = hungAt(old, lamp.zMm - 40);
    expect(direct(oldDragged, old)?.evenness?.mean).toBeCloseTo(0.8 * blind, 0);
  });
});

function unstamped({ of: _, ...reading }: Plan['light']['readings'][number]) {
  return reading;
}

describe('the stamp of a shelf’s light', () => {
  const [kind] = demo.rack.lampKinds;
  if (!kind) throw new Error('no lamp kind');
  const now = lightStamp(shelf, [kind]);
  const file = (text: string) => ({
    ...kind,
    emission: { kind: 'file' as const, fileName: 'a.ies', text },
  });
  const of = (change: Partial<typeof shelf>, lampKind = kind) =>
    lightStamp({ ...shelf, ...change }, [lampKind]);
  const withLamp = (patch: Partial<typeof lamp>) =>
    of({ lamps: shelf.lamps.map((l) => (l.id === lamp.id ? { ...l, ...patch } : l)) });

  it('changes with all that changes the light, a file of the same length included', () => {
    const others = [
      ...(['xMm', 'yMm', 'zMm', 'rotationDeg', 'tiltDeg'] as const).map((part) =>
        withLamp({ [part]: lamp[part] + 1 }),
      ),
      withLamp({ dimming: 0.5 }),
      of({ lamps: shelf.lamps.slice(1) }),
      of({ clearanceMm: shelf.clearanceMm + 1 }),
      of({ reflectances: { ...shelf.reflectances, left: 0.1 } }),
      of({}, { ...kind, powerW: kind.powerW + 1 }),
      of({}, { ...kind, lengthMm: kind.lengthMm - 1 }),
      of({}, file('1 2 3')),
      of({}, file('1 2 4')),
    ];
    expect(new Set([now, ...others]).size).toBe(others.length + 1);
  });

  it('stays where the light does: names, mass, groups, trays, canopy, order, flux said otherwise', () => {
    const photons = { kind: 'photons' as const, fluxUmolS: 57.6 };
    const same = [
      withLamp({ group: 'another' }),
      of({ lamps: [...shelf.lamps].reverse() }),
      of({ trays: [], canopy: { plantingMm: 1, harvestMm: 2 }, number: 9, ratedLoadKg: null }),
      of({}, { ...kind, name: 'Another', massKg: 9 }),
      of({}, { ...kind, output: photons }),
    ];
    expect(new Set([now, ...same]).size).toBe(1);
  });
});
