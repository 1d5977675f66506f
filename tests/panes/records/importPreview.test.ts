import { describe, expect, it } from 'vitest';
import { matchSheet, type Said } from '../../../renderer/document/records';
import { askedFirst, askedWords } from '../../../renderer/panes/records/importing/importAsked';
import {
  FATE_PAINT,
  previewedMeasurements,
  previewLook,
} from '../../../renderer/panes/records/importing/previewLook';
import { sheetOfText } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { drawnPlan } from '../../builders/samplePlan';

/** The sample with two pots recorded at harvest and a likely range. */
function plan(): Plan {
  const sample = drawnPlan();
  if (!sample.trial) throw new Error('the sample has a trial');
  const measurements = sample.trial.measurements.map((m) =>
    m.id === 'm2' ? { ...m, highest: 50 } : m,
  );
  const values = { m2: { 't1:1:1': 11, 't1:1:2': 12 } };
  return {
    ...sample,
    trial: { ...sample.trial, measurements },
    records: { ...sample.records, values },
  };
}

function found(text: string, said: Said = {}) {
  const read = sheetOfText(text);
  const sheet = read.ok ? read.sheets[0] : undefined;
  const matched = sheet && matchSheet(plan(), sheet, said);
  if (!matched) throw new Error('a table with lines is expected');
  return { matched };
}

describe('the rack as a table would fill it', () => {
  it('tells of each pot what becomes of it, and changes nothing', () => {
    const before = plan();
    const text =
      'Pot;Fresh weight at harvest;State\n1A-A1;11;\n1A-A2;13;\n1A-A3;14;\n1A-B1;51;\n1A-B2;x1;\n1A-B3;;dead\n';
    const { preview } = found(text).matched;
    const [harvest = null] = previewedMeasurements(before, preview);
    const { look, counts } = previewLook(before, preview, harvest);
    expect(counts).toEqual({
      new: 1,
      replaced: 1,
      same: 1,
      asked: 1,
      marked: 1,
      trouble: 1,
      absent: 6,
    });
    const said = (id: string) => look.potPaint?.get(id);
    expect(said('t1:1:2')?.words).toBe('1A-A2: 13 g replaces 12 g');
    expect(said('t1:1:1')).toMatchObject({ fill: FATE_PAINT.same.fill, text: '11.0' });
    expect(said('t1:2:2')?.words).toBe('1A-B2: “x1” is left out');
    expect(said('t1:2:3')?.mark).toBe('dead');
    expect(said('t2:1:1')?.words).toBe('2A-A1: no value in the table');
    expect(look.editable).toBe(false);
    expect(before).toEqual(plan());
  });

  it('shows one measurement at a time', () => {
    const { preview } = found(
      'Pot;Fresh weight at start;Fresh weight at harvest\n1A-A1;2;\n1A-A2;;13\n',
    ).matched;
    const offered = previewedMeasurements(plan(), preview);
    expect(offered.map(({ id }) => id)).toEqual(['m1', 'm2']);
    const [start = null, harvest = null] = offered;
    expect(previewLook(plan(), preview, start).counts).toMatchObject({ new: 1, replaced: 0 });
    expect(previewLook(plan(), preview, harvest).counts).toMatchObject({ new: 0, replaced: 1 });
  });
});

describe('what has to be said before a table is taken over', () => {
  const text = 'Topf;Fresh weight at harvest;Brix;Pith\n1A-A1;12,5;9,1;1\n1A-A2;13,5;9,2;2\n';

  it('is named beside the button, one column after the other', () => {
    expect(askedFirst(found(text))).toBe('Say first what the column Brix holds (1 more to say).');
    const one = found(text, { heads: { Pith: 'not used' } });
    expect(askedFirst(one)).toBe('Say first what the column Brix holds.');
    expect(askedWords(one)).toHaveLength(1);
    const all = found(text, { heads: { Pith: 'not used', Brix: 'not used' } });
    expect(askedFirst(all)).toBeNull();
  });

  it('may be the order of day and month, and is no tray that does not fit', () => {
    const days = found('Pot;Date;Fresh weight at harvest\n1A-A1;6/7/2026;12\n');
    expect(askedFirst(days)).toBe('Say first how the column Date is to be read.');
    const trays = found(
      'Fresh weight at harvest\nTray 1A\n1,2,3,4\n4,5,6,7\n\nTray 2A\n1,2,3\n4,5,6\n',
    );
    expect(askedWords(trays)).toHaveLength(1);
    expect(askedFirst(trays)).toBeNull();
  });
});
