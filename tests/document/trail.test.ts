import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../renderer/document/apply';
import type { Command } from '../../renderer/document/command';
import {
  enterValues,
  importValues,
  markPots,
  notePot,
  removeMeasurement,
  settleValue,
  swapPots,
} from '../../renderer/document/commands';
import { readPlan, writePlan } from '../../renderer/document/open';
import {
  actOfValue,
  entriesOfMark,
  entriesOfValue,
  sayAct,
  secondEntryOf,
} from '../../renderer/document/queries';
import {
  recordsDictionaryCsv,
  recordsHistoryCsv,
  recordsLongCsv,
  sayMark,
} from '../../renderer/document/records';
import { html } from '../../renderer/print/html';
import { enteredWords, entriesHtml } from '../../renderer/print/report/sections/entries';
import type { Plan } from '../../shared-types/plan';
import type { EntryAct, Mark } from '../../shared-types/records';
import { drawnPlan } from '../builders/samplePlan';

const MORNING: EntryAct = { at: '2026-04-05T09:05:00+02:00', by: 'KM' };
const NOON: EntryAct = { at: '2026-04-06T12:00:00+02:00', by: 'AB' };

function done<Args>(plan: Plan, command: Command<Args>, args: Args, act?: EntryAct): Plan {
  const outcome = applyCommand(plan, command, args, act);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.plan;
}

const enter = (plan: Plan, potId: string, value: number | null, act: EntryAct, second = false) =>
  done(plan, enterValues, { measurementId: 'm2', entries: [{ potId, value }], second }, act);

const said = ({ records }: Plan, potId: string) =>
  entriesOfValue(records, 'm2', potId).map(
    ({ value, act }) => `${value ?? 'cleared'}${act ? ` ${sayAct(act)}` : ''}`,
  );

describe('the trail of a value', () => {
  it('tells when, by whom and what it replaced, also where it was cleared between', () => {
    let plan = enter(drawnPlan(), 't1:1:1', 11, MORNING);
    plan = enter(plan, 't1:1:1', 12, NOON);
    expect(said(plan, 't1:1:1')).toEqual([
      '11 2026-04-05 09:05 by KM',
      '12 2026-04-06 12:00 by AB',
    ]);
    plan = enter(plan, 't1:1:1', null, NOON);
    expect(said(plan, 't1:1:1')).toEqual([
      ...[
        '11 2026-04-05 09:05 by KM',
        '12 2026-04-06 12:00 by AB',
        'cleared 2026-04-06 12:00 by AB',
      ],
    ]);
    const later = { at: '2026-04-07T08:00:00+02:00' };
    plan = enter(plan, 't1:1:1', 13, later);
    expect(said(plan, 't1:1:1').slice(2)).toEqual([
      ...['cleared 2026-04-06 12:00 by AB', '13 2026-04-07 08:00'],
    ]);
    expect(actOfValue(plan.records, 'm2', 't1:1:1')).toEqual(later);
    // One act a person and minute, and the file holds all of it.
    expect(plan.records.trail?.acts).toHaveLength(3);
    const read = readPlan(writePlan(plan));
    expect(read.ok && read.plan.records.trail).toEqual(plan.records.trail);
  });

  it('tells of a value of an older file that nothing is known of its entry', () => {
    const old = drawnPlan();
    const stood = { ...old, records: { ...old.records, values: { m2: { 't1:1:1': 11 } } } };
    expect(said(stood, 't1:1:1')).toEqual(['11']);
    expect(said(enter(stood, 't1:1:1', 12, NOON), 't1:1:1')).toEqual([
      ...['11', '12 2026-04-06 12:00 by AB'],
    ]);
    // Saying the same again is no entry.
    expect(enter(stood, 't1:1:1', 11, NOON).records.trail).toBeUndefined();
  });

  it('is kept by import and settling, apart for the second entry, and not without an act', () => {
    const values = [{ measurementId: 'm2', potId: 't1:1:2', value: 9 }];
    let plan = done(drawnPlan(), importValues, { values }, MORNING);
    plan = enter(plan, 't1:1:2', 10, NOON, true);
    expect(said(plan, 't1:1:2')).toEqual(['9 2026-04-05 09:05 by KM']);
    expect(said(secondEntryOf(plan), 't1:1:2')).toEqual(['10 2026-04-06 12:00 by AB']);
    plan = done(plan, settleValue, { measurementId: 'm2', potId: 't1:1:2', value: 10 }, NOON);
    expect(said(plan, 't1:1:2')).toHaveLength(2);
    expect(done(drawnPlan(), importValues, { values }).records.trail).toBeUndefined();
  });

  it('goes with the plants that change places, and with its measurement', () => {
    let plan = enter(enter(drawnPlan(), 't1:1:1', 11, MORNING), 't1:1:1', 12, NOON);
    const args = { a: 't1:1:1', b: 't1:1:2', date: '2026-04-07', reason: '', recordsMove: true };
    plan = done(plan, swapPots, args, NOON);
    expect(said(plan, 't1:1:1')).toEqual([]);
    expect(said(plan, 't1:1:2')).toHaveLength(2);
    const without = done(plan, removeMeasurement, { measurementId: 'm2', withValues: true });
    expect(without.records.trail).toMatchObject({ entered: {}, replaced: [] });
  });

  it('is refused from a file where it names an act that is not there', () => {
    const plan = enter(drawnPlan(), 't1:1:1', 11, MORNING);
    const text = writePlan(plan);
    expect(readPlan(text.replace(/"t1:1:1": ?0/, '"t1:1:1": 1')).ok).toBe(false);
    expect(readPlan(text).ok).toBe(true);
  });

  it('stands in the long table and, summed up, in the report', () => {
    let plan = enter(enter(drawnPlan(), 't1:1:1', 11, MORNING), 't1:1:1', 12, NOON);
    plan = enter(plan, 't1:1:2', 9, MORNING);
    const [head = '', ...lines] = recordsLongCsv(plan).split(/\r?\n/);
    expect(head).toContain(',entries,entered,entered by,replaces,');
    expect(lines.find((line) => line.startsWith('1A-A1,') && line.includes('harvest'))).toContain(
      ',12,g,,,2026-04-06T12:00:00+02:00,AB,11,',
    );
    expect(recordsDictionaryCsv(plan, 'long')).toContain('entered by,"Initials of who');
    expect(recordsLongCsv(drawnPlan())).not.toContain('entered');
    expect(enteredWords(plan)).toBe(
      '2 values entered on 2 days from 2026-04-05 to 2026-04-06: AB 1 and KM 1.',
    );
    expect(enteredWords(drawnPlan())).toBeNull();
  });
});

describe('the trail of states and notes', () => {
  const mark = (plan: Plan, is: Mark | null, act: EntryAct, second = false) =>
    done(plan, markPots, { potIds: ['t1:1:1'], mark: is, second }, act);
  const dead: Mark = { mark: 'dead', date: '2026-03-19', reason: '' };
  const states = ({ records }: Plan) =>
    entriesOfMark(records, 't1:1:1').map(
      ({ state, act }) => `${sayMark(state)}${act ? ` ${sayAct(act)}` : ''}`,
    );

  it('tells when and by whom a plant was marked, and what was said before', () => {
    let plan = mark(drawnPlan(), dead, MORNING);
    // Day and reason that follow within the minute are the same act.
    plan = mark(plan, { ...dead, reason: 'snapped' }, MORNING);
    expect(states(plan)).toEqual(['dead since 2026-03-19, snapped 2026-04-05 09:05 by KM']);
    plan = mark(plan, null, NOON);
    expect(states(plan)).toEqual([
      'dead since 2026-03-19, snapped 2026-04-05 09:05 by KM',
      'alive 2026-04-06 12:00 by AB',
    ]);
    const read = readPlan(writePlan(plan));
    expect(read.ok && read.plan.records.trail).toEqual(plan.records.trail);
    expect(readPlan(writePlan(plan).replace(/"act": ?1/, '"act": 7')).ok).toBe(false);
  });

  it('knows nothing of a mark of an older file but that it stood', () => {
    const old = done(drawnPlan(), markPots, { potIds: ['t1:1:1'], mark: dead });
    expect(states(old)).toEqual([]);
    expect(states(mark(old, null, NOON))).toEqual([
      'dead since 2026-03-19',
      'alive 2026-04-06 12:00 by AB',
    ]);
    // Saying the same again is no change.
    expect(mark(old, dead, NOON).records.trail).toBeUndefined();
  });

  it('keeps the second person’s apart, and goes with the plant that changes places', () => {
    const plan = mark(mark(drawnPlan(), dead, MORNING, true), dead, NOON);
    expect(states(plan)).toEqual(['dead since 2026-03-19 2026-04-06 12:00 by AB']);
    expect(states(secondEntryOf(plan))).toEqual(['dead since 2026-03-19 2026-04-05 09:05 by KM']);
    const args = { a: 't1:1:1', b: 't1:1:2', date: '2026-04-07', reason: '', recordsMove: true };
    const swapped = done(plan, swapPots, args, NOON);
    expect(states(swapped)).toEqual([]);
    expect(entriesOfMark(swapped.records, 't1:1:2')).toHaveLength(1);
  });

  it('is exported with that of values, and stands in the report where it was changed', () => {
    const note = (plan: Plan, text: string, act: EntryAct) =>
      done(plan, notePot, { potId: 't1:1:1', note: { text, files: [] } }, act);
    let plan = enter(mark(drawnPlan(), dead, MORNING), 't1:1:2', 9, MORNING, true);
    plan = note(note(plan, 'pale', MORNING), 'pale, new leaves', NOON);
    expect(recordsHistoryCsv(plan).trim().split(/\r?\n/)).toEqual([
      'pot,what,entry,said,unit,entered,entered by',
      '1A-A1,state,first,dead since 2026-03-19,,2026-04-05T09:05:00+02:00,KM',
      '1A-A1,note,,pale,,2026-04-05T09:05:00+02:00,KM',
      '1A-A1,note,,"pale, new leaves",,2026-04-06T12:00:00+02:00,AB',
      '1A-A2,fresh weight at harvest,second,9,g,2026-04-05T09:05:00+02:00,KM',
    ]);
    const { markup } = html`${entriesHtml(plan)}`;
    expect(markup).toContain(
      '1A-A1, note “pale” given up 2026-04-06 12:00 by AB; “pale, new leaves” stands',
    );
    expect(markup).not.toContain('state');
  });
});
