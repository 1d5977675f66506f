import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importValues } from '../../../renderer/document/commands';
import {
  matchTable,
  recordsLongCsv,
  toValues,
  type TablePreview,
} from '../../../renderer/document/records';
import { potsToMeasure } from '../../../renderer/document/queries';
import type { Plan } from '../../../shared-types/plan';
import type { Records } from '../../../shared-types/records';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';
import { readTable } from '../../../renderer/tables';

/** The sample with an interim weighing on each of two days, which only the date tells apart. */
function basePlan(): Plan {
  const plan = drawnPlan();
  const [start, harvest] = plan.trial?.measurements ?? [];
  if (!plan.trial || !start || !harvest) throw new Error('the sample has two measurements');
  const between = (id: string, date: string) =>
    ({ ...start, id, timepoint: 'interim', date }) as const;
  const measurements = [
    { ...start, lowest: null },
    between('m3', '2026-03-09'),
    between('m4', '2026-03-16'),
    { ...harvest, lowest: null },
  ];
  return { ...plan, trial: { ...plan.trial, measurements } };
}

const ids = potsToMeasure(basePlan()).map((pot) => pot.id);
const some = <T>(value: fc.Arbitrary<T>) =>
  fc.dictionary(fc.constantFrom(...ids), value, { noNullPrototype: true });
const number = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0),
  fc.integer({ min: -9, max: 9999 }).map((n) => n / 100),
);
// Signs that separate, quote, run as formulas, or are no ASCII.
const text = fc
  .string({ unit: fc.constantFrom(...'aé=+-@\'",;|\t\n 1.µ漢😀'), maxLength: 12 })
  .map((words) => words.trim());
const path = text.map((words) => words.replace(/[\n\t|]/g, '').trim()).filter((w) => w !== '');
// Among them the day of m3 itself, which is no day of its own.
const day = fc.constantFrom('2026-03-09', '2026-04-30', '2026-05-01');
const records: fc.Arbitrary<Records> = fc.record({
  values: fc.record({ m1: some(number), m3: some(number), m4: some(number), m2: some(number) }),
  second: fc.record({ m2: some(number) }),
  marks: some(
    fc.record({
      mark: fc.constantFrom('dead' as const, 'missing' as const, 'excluded' as const),
      date: fc.constantFrom(null, '2026-03-09'),
      reason: text,
    }),
  ),
  secondMarks: some(
    fc.record({
      mark: fc.constantFrom('dead' as const, 'missing' as const),
      date: fc.constantFrom(null, '2026-03-10'),
      reason: text,
    }),
  ),
  notes: some(
    fc
      .record({ text, files: fc.array(path, { maxLength: 3 }) })
      .filter((note) => note.text !== '' || note.files.length > 0),
  ),
  incidents: fc.constant([]),
  days: fc.record({ m2: some(day), m3: some(day) }),
});

const filled = (list: Records['values']) =>
  Object.fromEntries(Object.entries(list).filter(([, byPot]) => Object.keys(byPot).length > 0));

/** The days of recorded values that are not the day of their measurement. */
function ownDays({ days = {}, values }: Records): Records['days'] {
  const own = Object.entries(days).map(([id, byPot]) => {
    const stays = ([pot, date]: readonly [string, string]) =>
      values[id]?.[pot] !== undefined && !(id === 'm3' && date === '2026-03-09');
    return [id, Object.fromEntries(Object.entries(byPot).filter(stays))] as const;
  });
  return Object.fromEntries(own.filter(([, byPot]) => Object.keys(byPot).length > 0));
}

function preview(plan: Plan, csv: string): TablePreview {
  const read = readTable(csv);
  if (!read.ok) throw new Error(read.problem);
  return matchTable(plan, read.table);
}

describe('the long table', () => {
  it('gives the same records back, whatever stands in them, in every way of writing', () => {
    const styles = [
      { separator: ',', decimal: '.' },
      { separator: ',', decimal: ',' },
      { separator: ';', decimal: ',', byteOrderMark: true },
      { separator: '\t', decimal: '.' },
    ] as const;
    fc.assert(
      fc.property(records, fc.constantFrom(...styles), (kept, style) => {
        const plan = basePlan();
        const csv = recordsLongCsv({ ...plan, records: kept }, style);
        const held = preview(plan, csv);
        expect(held).toMatchObject({ form: 'long', problem: null, rows: [], missingPots: [] });
        const back = run(plan, importValues, toValues(held, true)).records;
        expect(filled(back.values)).toEqual(filled(kept.values));
        expect(filled(back.second)).toEqual(filled(kept.second));
        expect(back.days ?? {}).toEqual(ownDays(kept));
        expect(back.marks).toEqual(kept.marks);
        expect(back.secondMarks ?? {}).toEqual(kept.secondMarks);
        expect(back.notes ?? {}).toEqual(kept.notes);
      }),
      { numRuns: 60 },
    );
  });

  it('takes a date that is not the measurement’s for the day of the value', () => {
    const csv = [
      'pot,measurement,timepoint,date,value',
      '1A-A1,Fresh weight,harvest,2026-04-30,12',
      '1A-A2,Fresh weight,harvest,,13',
      '1A-A3,Fresh weight,interim,2026-03-09,5',
      '1A-B1,Fresh weight,harvest,30.04.2026,14',
    ].join('\n');
    const { records } = run(basePlan(), importValues, toValues(preview(basePlan(), csv), true));
    expect(records.days).toEqual({ m2: { 't1:1:1': '2026-04-30' } });
    expect(Object.keys(records.values['m2'] ?? {})).toHaveLength(3);
  });

  it('says a day that is none, and takes the value without it', () => {
    const csv = 'pot,measurement,timepoint,taken on,value\n1A-A1,Fresh weight,harvest,1 May,12\n';
    const held = preview(basePlan(), csv);
    expect(held.cells.map(({ column, outcome }) => [column, outcome.kind])).toEqual([
      [3, 'not-a-date'],
      [4, 'value'],
    ]);
    expect(toValues(held, true).values).toEqual([
      { measurementId: 'm2', potId: 't1:1:1', value: 12 },
    ]);
  });

  it('keeps what is recorded where its cells are empty', () => {
    const plan: Plan = {
      ...basePlan(),
      records: {
        values: { m2: { 't1:1:1': 12 } },
        second: {},
        marks: { 't1:1:2': { mark: 'dead', date: null, reason: 'rot' } },
        incidents: [],
      },
    };
    const held = preview(plan, recordsLongCsv(basePlan()));
    expect(run(plan, importValues, toValues(held, true))).toBe(plan);
  });

  it('is known also where a factor is called as one of its columns', () => {
    const plan = basePlan();
    const [light, medium] = plan.trial?.factors ?? [];
    if (!plan.trial || !light || !medium) throw new Error('the sample has two factors');
    const factors = [
      { ...light, name: 'value' },
      { ...medium, name: 'note' },
    ];
    const called = { ...plan, trial: { ...plan.trial, factors } };
    const values = { m2: { 't1:1:1': 12 } };
    const csv = recordsLongCsv({ ...called, records: { ...plan.records, values } });
    expect(csv).toContain(',value,note,plant,measurement,timepoint,date,value 2,');
    expect(toValues(preview(called, csv), true).values).toEqual([
      { measurementId: 'm2', potId: 't1:1:1', value: 12 },
    ]);
  });
});

describe('lines of a long table that cannot be taken', () => {
  const head = 'pot,measurement,timepoint,date,value,unit,second entry,mark,mark date,note\n';
  const outcomes = (lines: readonly string[]) => {
    const { cells, rows } = preview(basePlan(), head + lines.map((line) => `${line}\n`).join(''));
    return [
      ...rows.map(({ line, problem }) => `${line} ${problem}`),
      ...cells
        .filter(({ outcome }) => outcome.kind !== 'blank')
        .map(({ line, outcome }) => `${line} ${outcome.kind}`),
    ];
  };
  const fresh = 'fresh weight';

  it('are all named, with the reason', () => {
    expect(
      outcomes([
        `1A-A1,${fresh},harvest,,12,g,,,,`,
        `1A-A2,${fresh},harvest,,12,kg,,,,`,
        `1A-A3,${fresh},interim,,12,g,,,,`,
        '1A-B1,height,harvest,,12,mm,,,,',
        `9Z-A1,${fresh},harvest,,12,g,,dead,,`,
        `1A-B2,${fresh},harvest,,heavy,g,1e400,gone,,`,
        `1A-B3,${fresh},start,,2,g,,dead,9.3.2026,`,
      ]),
    ).toEqual([
      '6 unknown-code',
      '2 value',
      '3 other-unit',
      '4 several-measurements',
      '5 unknown-measurement',
      '6 no-pot',
      '6 no-pot',
      '7 not-a-number',
      '7 not-a-number',
      '7 not-a-mark',
      '8 value',
      '8 not-a-date',
    ]);
  });

  it('are those that say a thing twice; the same state on every line is no trouble', () => {
    expect(
      outcomes([
        `1A-A1,${fresh},harvest,,12,g,,dead,,leans`,
        `1A-A1,${fresh},harvest,,13,g,,dead,,stands`,
      ]),
    ).toEqual(['2 twice', '2 mark', '2 differs', '3 twice', '3 mark', '3 differs']);
  });

  it('are not those whose day a spreadsheet has written in its own way', () => {
    const day = `1A-A1,${fresh},harvest,2/4/2026,12,g,,,,`;
    expect(outcomes([day])).toEqual(['2 value']);
    expect(outcomes([`1A-A1,${fresh},interim,9/3/2026,12,g,,,,`])).toEqual([
      '2 several-measurements',
    ]);
    expect(outcomes([`1A-A1,${fresh},interim,2026-03-16,12,g,,,,`])).toEqual(['2 value']);
  });
});
