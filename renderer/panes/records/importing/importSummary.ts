import type { Plan } from '../../../../shared-types/plan';
import {
  toValues,
  type CellReport,
  type RowReport,
  type TablePreview,
  type ValueToTake,
} from '../../../document/records';

/** A line of the table, or one cell of it, that is left out. */
export interface LeftOutLine {
  line: number;
  code: string;
  text: string;
  why: string;
}

/**
 * What taking a table over would do. `withOdd`: values outside the likely range come along;
 * `second`: the table is the second entry.
 */
export function importSummary(
  { records }: Pick<Plan, 'records'>,
  preview: Pick<TablePreview, 'cells' | 'rows' | 'problem'>,
  { withOdd, second }: { withOdd: boolean; second: boolean },
) {
  const taking = toValues(preview, withOdd);
  const recorded = second ? records.second : records.values;
  return {
    taking,
    count: taking.values.length + taking.secondValues.length,
    /** Nothing of it can be taken over. */
    nothing: preview.problem !== null || Object.values(taking).every((list) => list.length === 0),
    /** Values that stand in the records already, but as another figure. */
    changing: changesIn(recorded, taking.values) + changesIn(records.second, taking.secondValues),
    /** Values with a day of their own. */
    dated: taking.values.filter(({ day }) => day !== undefined).length,
    /** Values outside the likely range, which wait for a word. */
    odd: preview.cells.filter(({ outcome }) => outcome.kind === 'out-of-range').length,
    leftOut: leftOutOf(preview),
  };
}

function changesIn(recorded: Plan['records']['values'], taken: readonly ValueToTake[]): number {
  return taken.filter(({ measurementId, potId, value }) => {
    const was = recorded[measurementId]?.[potId];
    return was !== undefined && was !== value;
  }).length;
}

/** In the order of the lines; a line that is left out whole stands before its cells. */
function leftOutOf({ rows, cells }: Pick<TablePreview, 'rows' | 'cells'>): LeftOutLine[] {
  return [
    ...rows.map(({ line, code, problem }) => ({ line, code, text: '', why: ROW_WORDS[problem] })),
    ...cells.flatMap(({ line, code, text, outcome }) => {
      const why = troubleOf(outcome);
      return why === null ? [] : [{ line, code, text, why }];
    }),
  ].sort((a, b) => a.line - b.line);
}

const ROW_WORDS: Record<RowReport['problem'], string> = {
  'no-code': 'no pot code',
  'unknown-code': 'no pot of this trial has this code',
  'code-twice': 'this code stands in the table more than once',
  'code-of-several-pots': 'several pots bear this code',
  'code-of-other-run': 'this code is of another run',
  'no-run': 'a run of this trial, by its number, is expected',
  'cut-off': 'the file ends within this line; it may have been cut off',
};

function troubleOf(outcome: CellReport['outcome']): string | null {
  switch (outcome.kind) {
    case 'value':
    case 'mark':
    case 'note':
    case 'blank':
      return null;
    case 'out-of-range':
      return 'outside the likely range';
    case 'not-a-number':
      return 'a number is expected';
    case 'two-readings':
      return `can be ${outcome.asGrouped} or ${outcome.asDecimal}; choose “Decimals after” above`;
    case 'not-a-mark':
      return 'dead, missing, excluded or nothing is expected';
    case 'not-a-date':
      return 'a day such as 2026-03-31 is expected';
    case 'unknown-measurement':
      return 'the trial has no such measurement';
    case 'several-measurements':
      return 'several measurements are called so; the date has to tell them apart';
    case 'other-unit':
      return 'the measurement is taken in another unit';
    case 'twice':
      return 'another line gives this measurement of this pot, too';
    case 'differs':
      return 'the lines of this pot say different things';
    case 'no-pot':
      return 'no pot for this line';
  }
}
