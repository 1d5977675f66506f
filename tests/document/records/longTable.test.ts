import { describe, expect, it } from 'vitest';
import {
  recordsCsv,
  recordsDictionaryCsv,
  recordsLongCsv,
} from '../../../renderer/document/records';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';
import { readTable } from '../../../renderer/tables';

const plan: Plan = {
  ...drawnPlan(),
  records: {
    values: { m1: { 't1:1:1': 2.5 }, m2: { 't1:1:1': 31.25 } },
    second: { m2: { 't1:1:1': 31.5 } },
    secondMarks: {
      't1:1:2': { mark: 'dead', date: '2026-03-10', reason: 'dry' },
      't1:1:3': { mark: 'missing', date: null, reason: '' },
    },
    marks: { 't1:1:2': { mark: 'dead', date: '2026-03-09', reason: '=wilted' } },
    incidents: [],
    notes: { 't1:1:1': { text: 'leans; tied', files: ['photos/a.jpg', 'photos/b.jpg'] } },
  },
};

function read(text: string) {
  const table = readTable(text);
  if (!table.ok) throw new Error(table.problem);
  return table.table;
}

function records(text: string) {
  const { columns, rows } = read(text);
  return rows.map((row) => Object.fromEntries(columns.map((name, i) => [name, row.cells[i]])));
}

describe('the long table', () => {
  it('has a row for every measured pot and measurement, recorded or not', () => {
    const rows = records(recordsLongCsv(plan));
    expect(rows).toHaveLength(12 * 2);
    expect(rows[1]).toMatchObject({
      pot: '1A-A1',
      light: 'high',
      plant: 'P1',
      timepoint: 'harvest',
      value: '31.25',
      unit: 'g',
      'second entry': '31.5',
      entries: 'differ',
      mark: '',
      note: 'leans; tied',
      files: 'photos/a.jpg | photos/b.jpg',
    });
    expect(rows[2]).toMatchObject({
      pot: '1A-A2',
      value: '',
      mark: 'dead',
      'mark date': '2026-03-09',
      'mark reason': '=wilted',
      'second mark': 'dead',
      'second mark date': '2026-03-10',
      'second mark reason': 'dry',
      entries: 'agree',
    });
    expect(rows[4]).toMatchObject({ mark: '', 'second mark': 'missing', entries: '' });
    expect(rows[6]).toMatchObject({ 'second mark': '', entries: '' });
  });

  it('is written with separator, decimal comma and byte order mark as asked', () => {
    const text = recordsLongCsv(plan, { separator: ';', decimal: ',', byteOrderMark: true });
    expect(text.startsWith('\uFEFFpot;shelf;')).toBe(true);
    expect(text).toContain(';31,25;g;31,5;');
    expect(read(text)).toMatchObject({ separator: ';', decimal: ',' });
    expect(recordsCsv(plan, { byteOrderMark: true }).startsWith('\uFEFFpot,')).toBe(true);
  });
});

describe('the dictionary', () => {
  it('names every column of the table it goes with, in order', () => {
    for (const [shape, table] of [
      ['wide', recordsCsv(plan)],
      ['long', recordsLongCsv(plan)],
    ] as const) {
      const entries = records(recordsDictionaryCsv(plan, shape));
      expect(entries.map((entry) => entry['name'])).toEqual(read(table).columns);
      expect(entries.filter((entry) => entry['meaning'] === '')).toEqual([]);
    }
  });

  it('gives levels, units and likely values', () => {
    const bounded: Plan = {
      ...plan,
      trial: plan.trial && {
        ...plan.trial,
        measurements: plan.trial.measurements.map((m) => ({ ...m, lowest: 0, highest: 80 })),
      },
    };
    const entries = records(recordsDictionaryCsv(bounded, 'wide'));
    expect(entries.find((entry) => entry['name'] === 'light')).toMatchObject({
      meaning: 'Factor, randomised by shelf',
      values: 'high | low',
    });
    expect(entries.at(-3)).toMatchObject({ unit: 'g', values: 'likely from 0 to 80' });
  });
});
