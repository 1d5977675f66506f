import type { Pot } from '../../../engine/geometry';
import { dateSchema } from '../../../../shared-types/basics';
import type { Plan } from '../../../../shared-types/plan';
import type { Mark, PotNote } from '../../../../shared-types/records';
import { markSchema } from '../../../../shared-types/records';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { isBlank } from '../../../tables';
import type { NumberStyle, ParsedLine } from '../../../tables';
import type { LongColumns, LongUse } from '../columns';
import { FILES_BETWEEN } from '../writing/longTable';
import type { NoMeasurement } from './measurementFinder';
import { valueOutcome } from './outcome';
import type { CellOutcome, CellReport } from './outcome';

/** The cells of one line of a long table, by what they are used for. */
export interface LongLine {
  cell(use: LongUse): string;
  /** What becomes of one of its cells; nothing where the table has no such column. */
  report(use: LongUse, outcome: CellOutcome | null): CellReport[];
}

/** A line as written; `pot`: whose it is, where that is known. */
export function longLine(row: ParsedLine, at: LongColumns, pot: Pot | undefined): LongLine {
  const cell = (use: LongUse) => {
    const column = at[use];
    return column === undefined ? '' : (row.cells[column] ?? '');
  };
  return {
    cell,
    report: (use, outcome) => {
      const column = at[use];
      if (column === undefined || outcome === null) return [];
      const code = pot?.code ?? cell('pot').trim();
      const text = row.cells[column] ?? '';
      return [{ line: row.line, column, text, potId: pot?.id ?? null, code, outcome }];
    },
  };
}

const TAKEN = ['value', 'second', 'mark', 'secondMark', 'note', 'files'] as const;

/** What a line that names no pot would have given. */
export const lostCells = ({ cell, report }: LongLine): CellReport[] =>
  TAKEN.flatMap((use) => report(use, isBlank(cell(use)) ? { kind: 'blank' } : { kind: 'no-pot' }));

/** What becomes of the values of a line, and of the day that it names for them. */
export function valueCells(
  plan: Plan,
  { cell, report }: LongLine,
  what: Measurement | NoMeasurement,
  pot: Pot,
  style: NumberStyle,
): { values: CellReport[]; days: CellReport[] } {
  const values = (['value', 'second'] as const).flatMap((use) =>
    report(use, longValue(plan, what, cell(use), pot, style, use === 'second')),
  );
  const day = dayOfLine(what, cell('takenOn'), cell('date'));
  if (typeof day === 'string') datedValues(values, day);
  const isAsked = typeof day !== 'string' && values.some(({ outcome }) => outcome.kind !== 'blank');
  return { values, days: isAsked ? report('takenOn', day) : [] };
}

/** What becomes of the marks and the note that a line holds of its pot. */
export const stateCells = ({ cell, report }: LongLine, at: LongColumns): CellReport[] => [
  ...report('mark', markOutcome(...MARK_CELLS.map(cell))),
  ...report('secondMark', ofSecond(markOutcome(...SECOND_MARK_CELLS.map(cell)))),
  ...report(at.note === undefined ? 'files' : 'note', noteOutcome(cell('note'), cell('files'))),
];

const MARK_CELLS = ['mark', 'markDate', 'markReason'] as const;
const SECOND_MARK_CELLS = ['secondMark', 'secondMarkDate', 'secondMarkReason'] as const;

/**
 * The day on which the values of a line were taken: that of its own column, else a date other than
 * that of the measurement. null: none is said, or the values keep the day that they have.
 */
function dayOfLine(
  what: Measurement | NoMeasurement,
  takenOn: string,
  date: string,
): string | CellOutcome | null {
  const own = takenOn.trim();
  if (own !== '') {
    return dateSchema.safeParse(own).success ? own : { kind: 'not-a-date' };
  }
  const day = date.trim();
  if (typeof what === 'string' || day === what.date) return null;
  return dateSchema.safeParse(day).success ? day : null;
}

function datedValues(reports: readonly CellReport[], day: string): void {
  for (const { outcome } of reports) {
    const isValue = outcome.kind === 'value' || outcome.kind === 'out-of-range';
    if (isValue && !outcome.second) outcome.day = day;
  }
}

function longValue(
  plan: Plan,
  what: Measurement | NoMeasurement,
  text: string,
  pot: Pot,
  style: NumberStyle,
  second: boolean,
): CellOutcome {
  if (isBlank(text)) return { kind: 'blank' };
  if (typeof what === 'string') return { kind: what };
  return valueOutcome(plan, what.id, text, pot.id, style, second);
}

function markOutcome(mark = '', date = '', reason = ''): CellOutcome {
  const day = date.trim();
  if (isBlank(mark)) {
    return day === '' && reason === '' ? { kind: 'blank' } : { kind: 'not-a-mark' };
  }
  const word = markSchema.shape.mark.safeParse(mark.trim().toLowerCase());
  if (!word.success) return { kind: 'not-a-mark' };
  const when = markSchema.shape.date.safeParse(day === '' ? null : day);
  if (!when.success) return { kind: 'not-a-date' };
  const full: Mark = { mark: word.data, date: when.data, reason };
  return { kind: 'mark', mark: word.data, full };
}

function ofSecond(outcome: CellOutcome): CellOutcome {
  return outcome.kind === 'mark' ? { ...outcome, second: true } : outcome;
}

function noteOutcome(text: string, files: string): CellOutcome {
  const paths = files
    .split(FILES_BETWEEN)
    .map((path) => path.trim())
    .filter((path) => path !== '');
  const note: PotNote = { text: text.trim(), files: paths };
  return note.text === '' && paths.length === 0 ? { kind: 'blank' } : { kind: 'note', note };
}
