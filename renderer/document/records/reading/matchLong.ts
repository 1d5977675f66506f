import type { Pot } from '../../../engine/geometry';
import { dateSchema } from '../../../../shared-types/basics';
import type { Plan } from '../../../../shared-types/plan';
import type { Mark, PotNote } from '../../../../shared-types/records';
import { markSchema } from '../../../../shared-types/records';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import { potsToMeasure } from '../../queries/records';
import { codeBook } from '../codes/codeBook';
import { unknownCode } from '../codes/runCode';
import { plainName } from '../columns';
import type { LongColumns, LongUse } from '../columns';
import { FILES_BETWEEN } from '../writing/longTable';
import { isBlank, numberStyle } from '../../../tables';
import type { NumberStyle, ParsedLine, TextTable } from '../../../tables';
import { valueOutcome } from './outcome';
import type { CellOutcome, CellReport, RowReport, TablePreview } from './outcome';

/**
 * Holds a long table against the plan: one line a pot and measurement, told apart by name, timepoint
 * and, where that is not enough, date. A date that is not the measurement's is the day on which the
 * value was taken, where no column of its own says it. Mark and note of a pot may stand on each of its lines; where
 * they differ, none is taken.
 */
export function matchLong(
  plan: Plan,
  table: TextTable,
  at: LongColumns,
): Omit<TablePreview, 'otherRuns'> {
  const uses = new Map(Object.entries(at).map(([use, column]) => [column, use as LongUse]));
  const columns = table.columns.map((name, i) => {
    const part = uses.get(i);
    return { name, use: part ? ({ use: 'long', part } as const) : ({ use: 'nothing' } as const) };
  });
  const cell = (row: ParsedLine, use: LongUse) => {
    const column = at[use];
    return column === undefined ? '' : (row.cells[column] ?? '');
  };
  const style = numberStyle(
    table.decimalStated ? table.decimal : null,
    table.rows.flatMap((row) => [cell(row, 'value'), cell(row, 'second')]),
  );
  const find = codeBook(plan);
  const measurementOf = measurementFinder(plan.trial?.measurements ?? []);
  const rows: RowReport[] = [];
  const cells: CellReport[] = [];
  const named = new Set<string>();
  // The first line that spoke of a measurement of a pot, and of the state of a pot.
  const values = new Map<string, CellReport[]>();
  const states = new Map<string, CellReport[]>();

  for (const row of table.rows) {
    const written = cell(row, 'pot').trim();
    const match = find(written);
    const pot = match === 'several' ? undefined : match;
    if (pot) named.add(pot.id);
    const problem: RowReport['problem'] | null =
      row.line === table.cutLine
        ? 'cut-off'
        : written === ''
          ? 'no-code'
          : match === undefined
            ? unknownCode(written)
            : match === 'several'
              ? 'code-of-several-pots'
              : null;
    if (problem !== null) rows.push({ line: row.line, code: written, problem });
    const report = (use: LongUse, outcome: CellOutcome | null): CellReport[] => {
      const column = at[use];
      if (column === undefined || outcome === null) return [];
      const code = pot?.code ?? written;
      const text = row.cells[column] ?? '';
      return [{ line: row.line, column, text, potId: pot?.id ?? null, code, outcome }];
    };
    if (problem !== null || !pot) {
      const lost = (['value', 'second', 'mark', 'secondMark', 'note', 'files'] as const).flatMap(
        (use) => report(use, isBlank(cell(row, use)) ? { kind: 'blank' } : { kind: 'no-pot' }),
      );
      cells.push(...lost);
      continue;
    }
    const what = measurementOf(
      ...(['measurement', 'timepoint', 'date', 'unit'] as const).map((use) => cell(row, use)),
    );
    const day = dayOfLine(what, cell(row, 'takenOn'), cell(row, 'date'));
    const ofValues = (['value', 'second'] as const).flatMap((use) =>
      report(use, longValue(plan, what, cell(row, use), pot, style, use === 'second')),
    );
    if (typeof day === 'string') datedValues(ofValues, day);
    else if (ofValues.some(isFilled)) cells.push(...report('takenOn', day));
    cells.push(...ofValues);
    if (typeof what !== 'string') noteLine(values, `${what.id} ${pot.id}`, ofValues);
    const ofState = [
      ...report('mark', markOutcome(...MARK_CELLS.map((use) => cell(row, use)))),
      ...report(
        'secondMark',
        ofSecond(markOutcome(...SECOND_MARK_CELLS.map((use) => cell(row, use)))),
      ),
      ...report(
        at.note === undefined ? 'files' : 'note',
        noteOutcome(cell(row, 'note'), cell(row, 'files')),
      ),
    ];
    cells.push(...ofState);
    for (const one of ofState)
      noteLine(states, `${one.outcome.kind} ${one.column === at.secondMark} ${pot.id}`, [one]);
  }
  for (const list of values.values()) if (isTwice(list)) refuse(list, { kind: 'twice' });
  for (const list of states.values()) if (differ(list)) refuse(list, { kind: 'differs' });
  const missingPots = potsToMeasure(plan).filter((pot) => !named.has(pot.id));
  return { form: 'long', decimal: style.decimal, columns, problem: null, cells, rows, missingPots };
}

const MARK_CELLS = ['mark', 'markDate', 'markReason'] as const;
const SECOND_MARK_CELLS = ['secondMark', 'secondMarkDate', 'secondMarkReason'] as const;

function noteLine(lists: Map<string, CellReport[]>, key: string, reports: CellReport[]): void {
  const list = lists.get(key);
  if (list) list.push(...reports);
  else lists.set(key, [...reports]);
}

const isFilled = ({ outcome }: CellReport) => outcome.kind !== 'blank';

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

/** More than one line speaks of this measurement of this pot, and not only with empty cells. */
function isTwice(list: readonly CellReport[]): boolean {
  const filled = list.filter(isFilled);
  return new Set(filled.map(({ line }) => line)).size > 1;
}

function differ(list: readonly CellReport[]): boolean {
  return new Set(list.map(({ outcome }) => JSON.stringify(outcome))).size > 1;
}

function refuse(list: readonly CellReport[], outcome: CellOutcome): void {
  for (const report of list) if (report.outcome.kind !== 'blank') report.outcome = outcome;
}

type NoMeasurement = 'unknown-measurement' | 'several-measurements' | 'other-unit';

/** Finds measurements by what a line says of them. */
function measurementFinder(measurements: readonly Measurement[]) {
  const known = new Map<string, Measurement | NoMeasurement>();
  const same = (written: string, own: string) =>
    written.trim() === '' || plainName(written) === plainName(own);
  return (name = '', timepoint = '', date = '', unit = ''): Measurement | NoMeasurement => {
    const key = JSON.stringify([name, timepoint, date, unit]);
    const before = known.get(key);
    if (before !== undefined) return before;
    const named = measurements.filter(
      (m) => plainName(name) === plainName(m.name) && same(timepoint, m.timepoint),
    );
    // A spreadsheet may have turned the date about: it decides only where the rest does not.
    const dated = named.length > 1 ? named.filter((m) => (m.date ?? '') === date.trim()) : named;
    const [found, other] = dated;
    const answer =
      named.length === 0
        ? 'unknown-measurement'
        : !found || other
          ? 'several-measurements'
          : same(unit, found.unit)
            ? found
            : 'other-unit';
    known.set(key, answer);
    return answer;
  };
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
