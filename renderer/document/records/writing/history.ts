import type { Plan } from '../../../../shared-types/plan';
import type { EntryAct } from '../../../../shared-types/records';
import type { Pot } from '../../../engine/geometry';
import { writeDelimited, type CellOut, type TableStyle } from '../../../tables';
import { measurementLabel } from '../../queries/names';
import { measurementsInOrder, potsToMeasure, secondEntryOf } from '../../queries/records';
import { entriesOfMark, entriesOfNote, entriesOfValue } from '../../queries/trail';
import { hasSeveralRuns, runNumber } from '../../runs';
import { sayMark, sayNote } from '../sayState';
import { RUN_COLUMN } from '../columns';

/**
 * All that was ever entered, a line an entry, pot after pot and the earliest first: values, states of
 * plants and notes, with when and by whom. Nothing in `entered`: before times were kept.
 */
export function recordsHistoryCsv(
  plan: Plan,
  style: TableStyle = {},
  runs: readonly Plan[] = [plan],
): string {
  const several = hasSeveralRuns(plan);
  const head = ['pot', 'what', 'entry', 'said', 'unit', 'entered', 'entered by'];
  const lines = runs.flatMap((seen) =>
    historyLines(seen).map((line) => (several ? [runNumber(seen), ...line] : line)),
  );
  return writeDelimited([several ? [RUN_COLUMN, ...head] : head, ...lines], style);
}

function historyLines(plan: Plan): CellOut[][] {
  const second = secondEntryOf(plan);
  return potsToMeasure(plan).flatMap((pot) => [
    ...entriesAt(plan, pot, 'first'),
    ...entriesAt(second, pot, 'second'),
    ...entriesOfNote(plan.records, pot.id).map(({ state, act }) => [
      pot.code,
      'note',
      '',
      sayNote(state),
      '',
      ...actCells(act),
    ]),
  ]);
}

function entriesAt(plan: Plan, pot: Pot, entry: 'first' | 'second'): CellOut[][] {
  const { records } = plan;
  return [
    ...measurementsInOrder(plan).flatMap((measurement) =>
      entriesOfValue(records, measurement.id, pot.id).map(({ value, act }): CellOut[] => [
        pot.code,
        measurementLabel(measurement),
        entry,
        value ?? 'cleared',
        measurement.unit,
        ...actCells(act),
      ]),
    ),
    ...entriesOfMark(records, pot.id).map(({ state, act }): CellOut[] => [
      pot.code,
      'state',
      entry,
      sayMark(state),
      '',
      ...actCells(act),
    ]),
  ];
}

const actCells = (act: EntryAct | null): CellOut[] => [act?.at ?? '', act?.by ?? ''];
