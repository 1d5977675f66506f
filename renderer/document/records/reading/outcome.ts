import type { Pot } from '../../../engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import type { Mark, PotNote } from '../../../../shared-types/records';
import { measurementTraits, type Measurement } from '../../../../shared-types/trial/measurement';
import type { ColumnUse, LongUse } from '../columns';
import { roundedTo } from '../../../words';
import { numberAndUnit, unitFactor } from '../unitFactor';
import { readCell, type DecimalMark, type NumberStyle } from '../../../tables';

export type CellOutcome =
  | {
      /** `out-of-range`: a value that the person is asked about first. */
      kind: 'value' | 'out-of-range';
      measurementId: string;
      value: number;
      /** What is recorded there now. */
      replaces: number | null;
      /** It is of the independent second entry. */
      second?: true;
      /** The day on which it was taken, where the table says it. ISO 8601. */
      day?: string;
    }
  /** `full`: where the table tells day and reason, too; `second`: of the second entry. */
  | { kind: 'mark'; mark: Mark['mark']; full?: Mark; second?: true }
  | { kind: 'note'; note: PotNote }
  /** Nothing becomes of it: a value that is recorded already stays. */
  | { kind: 'blank' }
  | { kind: 'not-a-number' | 'not-a-mark' | 'not-a-date' }
  /** `1,234` where nothing tells whether the comma stands before decimals or thousands. */
  | { kind: 'two-readings'; asDecimal: number; asGrouped: number }
  /** The line of a long table names no measurement of the trial, or not one alone. */
  | { kind: 'unknown-measurement' | 'several-measurements' | 'other-unit' }
  /** Its text stands there because cells of several pots are merged. */
  | { kind: 'merged' }
  /** Several lines of a long table give this measurement of this pot, or states that differ. */
  | { kind: 'twice' | 'differs' }
  /** The row's pot is unknown or named twice; see `rows`. */
  | { kind: 'no-pot' };

/** What becomes of one cell that holds a measurement, a mark or a note. */
export interface CellReport {
  line: number;
  /** The column of the table, counted from 0. */
  column: number;
  text: string;
  potId: string | null;
  code: string;
  outcome: CellOutcome;
}

/** A row that could not be given to one pot. */
export interface RowReport {
  line: number;
  code: string;
  problem:
    | 'no-code'
    | 'unknown-code'
    | 'code-twice'
    | 'code-of-several-pots'
    | 'code-of-other-run'
    | 'no-run'
    | 'cut-off';
}

/** A table held against the plan, before anything is taken over. Every cell is accounted for. */
export interface TablePreview {
  /** A line for every pot, a line for every pot and measurement, or each tray as it stands on the rack. */
  form: 'wide' | 'long' | 'matrix';
  /** The decimal mark that the values were read with. */
  decimal: DecimalMark;
  columns: { name: string; use: ColumnUse | { use: 'long'; part: LongUse } }[];
  /** Why nothing can be taken over yet; null: it can. */
  problem: string | null;
  cells: CellReport[];
  rows: RowReport[];
  /** Measured pots that no row names. */
  missingPots: Pot[];
  /** Lines of the trial's other runs, which stay out. */
  otherRuns: { name: string; lines: number }[];
}

/** What only a person can answer, before a sheet is taken over. */
export interface TableQuestion {
  /** The column, cell or lines that it is about. */
  about: string;
  found: string;
  expected: string;
  /** The column that is asked for, counted from 0. */
  column?: number;
}

/**
 * What becomes of a cell that should hold a value of a measurement for a pot. `unit`: of its number,
 * where the cell does not name one itself; none: the measurement's own.
 */
export function valueOutcome(
  plan: Plan,
  measurementId: string,
  text: string,
  potId: string,
  style: NumberStyle,
  second = false,
  unit = '',
): CellOutcome {
  const measurement = plan.trial?.measurements.find((m) => m.id === measurementId);
  const list = second ? plan.records.second : plan.records.values;
  const replaces = list[measurementId]?.[potId] ?? null;
  const { digits, unit: own } = numberAndUnit(text.trim());
  const written = own || unit;
  const factor = measurement && written !== '' ? unitFactor(measurement, written) : 1;
  if (factor === null) return { kind: 'other-unit' };
  // Three decimals are no surprise where the measurement has them, or where they are recorded.
  const read = readCell(
    digits || text,
    style,
    (asDecimal) =>
      (measurement?.decimals ?? 0) + Math.log10(factor) >= 3 || replaces === asDecimal * factor,
  );
  if (read === null) return { kind: 'not-a-number' };
  if (typeof read === 'object') return { kind: 'two-readings', ...read };
  const value = factor === 1 ? read : roundedTo(read * factor, 12);
  const kind = measurement && !inRange(measurement, value) ? 'out-of-range' : 'value';
  return { kind, measurementId, value, replaces, ...(second ? { second: true } : {}) };
}

/**
 * The bounds of a measurement. What is counted, weighed or measured is never below zero, unless the
 * person's own range says so.
 */
export function valueBoundsOf({
  kind,
  lowest,
  highest,
}: Pick<Measurement, 'kind' | 'lowest' | 'highest'>): {
  lowest: number | null;
  highest: number | null;
} {
  const free = !measurementTraits[kind].ratio || (highest !== null && highest < 0);
  return { lowest: lowest ?? (free ? null : 0), highest };
}

/** Whether a value lies within the bounds of its measurement. */
export function inRange(measurement: Measurement, value: number): boolean {
  const { lowest, highest } = valueBoundsOf(measurement);
  return (lowest === null || value >= lowest) && (highest === null || value <= highest);
}

export interface ValueToTake {
  measurementId: string;
  potId: string;
  value: number;
  /** The day on which it was taken, ISO 8601; none: that of the measurement, or as it stands. */
  day?: string;
}

export interface MarkToTake {
  potId: string;
  mark: Mark['mark'];
  full?: Mark;
}

/**
 * What a preview would put into the records, for the command `importValues`. Values out of range
 * come along only where the person has looked at them and says so.
 */
export function toValues(
  preview: Pick<TablePreview, 'cells' | 'problem'>,
  withOutOfRange: boolean,
): {
  values: ValueToTake[];
  secondValues: ValueToTake[];
  marks: MarkToTake[];
  secondMarks: MarkToTake[];
  notes: { potId: string; note: PotNote }[];
} {
  const values: ValueToTake[] = [];
  const secondValues: ValueToTake[] = [];
  const marks = new Map<string, MarkToTake>();
  const secondMarks = new Map<string, MarkToTake>();
  const notes = new Map<string, { potId: string; note: PotNote }>();
  for (const { potId, outcome } of preview.problem === null ? preview.cells : []) {
    if (potId === null) continue;
    if (outcome.kind === 'mark') {
      const { mark, full, second } = outcome;
      (second ? secondMarks : marks).set(potId, { potId, mark, ...(full ? { full } : {}) });
    } else if (outcome.kind === 'note') notes.set(potId, { potId, note: outcome.note });
    else if (outcome.kind === 'value' || (outcome.kind === 'out-of-range' && withOutOfRange)) {
      const { measurementId, value, second, day } = outcome;
      if (second) secondValues.push({ measurementId, potId, value });
      else values.push({ measurementId, potId, value, ...(day === undefined ? {} : { day }) });
    }
  }
  return {
    values,
    secondValues,
    marks: [...marks.values()],
    secondMarks: [...secondMarks.values()],
    notes: [...notes.values()],
  };
}
