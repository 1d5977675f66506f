import { describe, expect, it } from 'vitest';
import { openQuestions, cellKey } from '../../../renderer/derive/records/valueQuestions';
import { enterValues, markPots } from '../../../renderer/document/commands';
import { potsToMeasure, measurementsInOrder } from '../../../renderer/document/queries';
import { sameGridRow } from '../../../renderer/panes/records/grid/GridRow';
import type { CellActs } from '../../../renderer/panes/records/grid/gridActs';
import {
  plantWords,
  rowViews,
  type CellPlace,
  type Draft,
} from '../../../renderer/panes/records/grid/rowView';
import { passedCells } from '../../../renderer/panes/records/useShownPots';
import type { Plan } from '../../../shared-types/plan';
import { manyRecorded } from '../../builders/manyPots';
import { run } from '../../builders/run';

const OPEN = 60;
const recorded = manyRecorded({ shelves: 2, traysPerShelf: 2, rows: 5, columns: 10 }, OPEN);
const pots = potsToMeasure(recorded);
const measurements = measurementsInOrder(recorded);
const [FROM, TO] = [120, 156];
const acts = {} as CellActs;

const at = (row: number): CellPlace => ({ potId: pots[row]?.id ?? '', measurementId: 'm2' });

function linesOf(plan: Plan, current: CellPlace | null, draft: Draft | null = null) {
  const { layout, records } = plan;
  const source = {
    pots,
    measurements,
    records,
    draft,
    current,
    plantText: plantWords(layout, records),
    questions: openQuestions(plan),
    passed: passedCells(pots, measurements, records, new Set()),
  };
  return rowViews(source, FROM, TO);
}

type Lines = ReturnType<typeof linesOf>;

/** The rows that are drawn anew between two states of the grid. */
const drawnAnew = (before: Lines, after: Lines): number[] =>
  after.flatMap((view, i) => {
    const old = before[i];
    const same =
      old && sameGridRow({ view: old, measurements, acts }, { view, measurements, acts });
    return same ? [] : [view.row];
  });

describe('the lines of the recording grid', () => {
  const row = pots.length - OPEN;
  const { measurementId, potId } = at(row);
  const typing = linesOf(recorded, at(row), {
    key: cellKey(measurementId, potId),
    text: '32.1',
    problem: null,
  });

  it('are drawn anew only where a key, a value or the cursor changes them', () => {
    const before = linesOf(recorded, at(row));
    expect(before).toHaveLength(TO - FROM);
    expect(drawnAnew(before, linesOf(recorded, at(row)))).toEqual([]);
    expect(drawnAnew(before, typing)).toEqual([row]);
    const entries = [{ potId, value: 32.1 }];
    const taken = run(recorded, enterValues, { measurementId, entries });
    expect(drawnAnew(typing, linesOf(taken, at(row)))).toEqual([row]);
    expect(drawnAnew(linesOf(taken, at(row)), linesOf(taken, at(row + 1)))).toEqual([row, row + 1]);
  });

  it('are drawn anew where a question, a mark, a gap or a problem comes up', () => {
    const before = linesOf(recorded, at(row));
    const odd = run(recorded, enterValues, {
      measurementId,
      entries: [{ potId, value: 3210 }],
    });
    expect(linesOf(odd, at(row))[row - FROM]?.cells[1]?.question).toContain('3210');
    expect(drawnAnew(before, linesOf(odd, at(row)))).toEqual([row]);
    const dead = { mark: 'dead', date: '2026-04-01', reason: '' } as const;
    const marked = run(recorded, markPots, { potIds: [potId], mark: dead });
    expect(drawnAnew(before, linesOf(marked, at(row)))).toEqual([row]);
    const skipped = run(recorded, enterValues, {
      measurementId,
      entries: [{ potId: at(row + 1).potId, value: 32 }],
    });
    // The pot that was passed over is lit, and the one after it has a value.
    expect(drawnAnew(before, linesOf(skipped, at(row)))).toEqual([row, row + 1]);
    const refused = linesOf(recorded, at(row), {
      key: cellKey(measurementId, potId),
      text: '32.1',
      problem: 'A number is expected.',
    });
    expect(drawnAnew(typing, refused)).toEqual([row]);
  });

  it('are all drawn anew for other measurements or acts', () => {
    const [view] = linesOf(recorded, at(row));
    if (!view) throw new Error('the grid has lines');
    const line = { view, measurements, acts };
    expect(sameGridRow(line, { ...line, measurements: [...measurements] })).toBe(false);
    expect(sameGridRow(line, { ...line, acts: { ...acts } })).toBe(false);
  });
});
