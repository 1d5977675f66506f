import { describe, expect, it } from 'vitest';
import {
  addTray,
  editLight,
  placeInRota,
  removeItems,
  setRota,
} from '../../../renderer/document/commands';
import { emptyHistory, recordStep, undoStep } from '../../../renderer/document/history';
import { readPlan, writePlan } from '../../../renderer/document/open';
import type { RotaPeriod } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';
import { label, refusal, run } from '../../builders/run';

/** The sample with a third tray, t10, beside t1 on the first shelf. */
const three = () => run(samplePlan(), addTray, { shelfId: 's1' });
const as = (placeOf: string, turned = false) => ({ placeOf, turned });
const weeks = (...places: RotaPeriod['places'][]): RotaPeriod[] =>
  places.map((one, i) => ({ fromDay: 8 + 7 * i, toDay: 14 + 7 * i, places: one }));
const swapped = { t1: as('t10'), t10: as('t1') };
const inPlan = (plan: Plan, period = 0) => plan.light.rota?.[period]?.places;

describe('a rota of tray moves', () => {
  it('is kept in the plan, survives save and open, and is undone', () => {
    const plan = three();
    const kept = run(plan, setRota, { rota: weeks(swapped, { t1: as('t1', true) }) });
    const opened = readPlan(writePlan(kept));
    expect(opened.ok && opened.plan.light.rota).toEqual(kept.light.rota);
    const step = {
      before: plan,
      after: kept,
      label: label(plan, setRota, { rota: weeks(swapped) }),
      mergeKey: null,
    };
    expect(undoStep(recordStep(emptyHistory, step))?.plan).toBe(plan);
    expect(label(plan, setRota, { rota: [] })).toBe('Drop the rota');
    const dropped = run(kept, setRota, { rota: [] });
    expect(writePlan(dropped)).toBe(writePlan(plan));
    expect(run(plan, setRota, { rota: [] })).toBe(plan);
  });

  it('a plan of before, without one, opens as it was', () => {
    const text = writePlan(samplePlan());
    expect(text).not.toContain('rota"');
    const opened = readPlan(text);
    expect(opened.ok && opened.plan).toEqual(samplePlan());
  });

  it('may change while the layout is planted', () => {
    const planted = drawnPlan('2026-03-02');
    const rota = weeks({ t1: as('t2'), t2: as('t1') });
    expect(refusal(planted, setRota, { rota })).toBe('done');
    const moved = run(planted, setRota, { rota });
    const place = as('t1', true);
    expect(refusal(moved, placeInRota, { period: 0, trayId: 't1', place })).toBe('done');
  });

  it('putting a tray in another’s place gives that one the place that becomes free', () => {
    let plan = run(three(), setRota, { rota: weeks({ t1: as('t10'), t10: as('t1', true) }, {}) });
    plan = run(plan, placeInRota, { period: 0, trayId: 't2', place: as('t10', true) });
    // t1 stood in t10's place and t2 in its own.
    expect(inPlan(plan)).toEqual({ t1: as('t2'), t2: as('t10', true), t10: as('t1', true) });
    expect(inPlan(plan, 1)).toEqual({});
    plan = run(plan, placeInRota, { period: 0, trayId: 't1', place: as('t1') });
    // Who stands as drawn is not named.
    expect(inPlan(plan)).toEqual({ t2: as('t10', true), t10: as('t2', true) });
  });

  it('a tray that is removed leaves no one in its place, and no place with two', () => {
    const ring = { t1: as('t2'), t2: as('t10'), t10: as('t1') };
    const rota = weeks(ring, { t1: as('t1', true), t2: as('t10'), t10: as('t2') });
    const plan = run(run(three(), setRota, { rota }), removeItems, { items: ['tray:t10'] });
    expect(plan.light.rota?.map(({ places }) => places)).toEqual([{}, { t1: as('t1', true) }]);
  });

  it('what cannot be is refused in words', () => {
    const plan = three();
    const say = (rota: RotaPeriod[]) => refusal(plan, setRota, { rota });
    expect(say(weeks({ t1: as('t10') }))).toContain('one tray a place');
    expect(say(weeks({ t1: as('t99') }))).toContain('a tray in the rack');
    expect(say(weeks({ t99: as('t1') }))).toContain('a tray in the rack');
    const [week = { fromDay: 1, toDay: 1, places: {} }] = weeks({});
    expect(say([week, week])).toContain('a day after 14');
    expect(say([{ ...week, toDay: 3 }])).toContain('at least 8');
    expect(say([{ ...week, fromDay: 0 }])).toContain('found 0');
    const move = (period: number, trayId: string, placeOf: string) =>
      refusal(plan, placeInRota, { period, trayId, place: as(placeOf) });
    expect(move(0, 't1', 't10')).toBe('The rota has no period 1.');
    expect(move(0, 't77', 't1')).toContain('no tray with the id t77');
    expect(move(0, 't1', 't77')).toContain('no tray with the id t77');
  });

  it('stays when the aims of the light are edited', () => {
    const plan = run(three(), setRota, { rota: weeks(swapped) });
    const edited = run(plan, editLight, { patch: { photoperiodHours: 14 } });
    expect(edited.light.rota).toEqual(plan.light.rota);
  });
});
