import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import { cellKey, type ValueQuestion } from '../../../derive/records/valueQuestions';
import { fieldNumber, fixed, rounded, sayDay } from '../../../words';

/** One cell, by what it holds; survives another order or filter. */
export interface CellPlace {
  potId: string;
  measurementId: string;
}

/** What is typed in a cell and not yet taken, and why it cannot be. */
export interface Draft {
  key: string;
  text: string;
  problem: string | null;
}

/** All that one cell of the grid shows. */
export interface CellView {
  shown: string;
  draft: string | null;
  problem: string | null;
  question: string | undefined;
  passed: boolean;
  /** The one stop of the Tab key. */
  isStop: boolean;
}

/** All that one line of the grid shows. */
export interface RowView {
  pot: Pot;
  row: number;
  isStruck: boolean;
  isCurrent: boolean;
  /** The plant's code, what became of it, and whether something is noted. */
  plant: string;
  cells: readonly CellView[];
}

/** What the lines of the grid are read from. */
export interface RowSource {
  pots: readonly Pot[];
  measurements: readonly Measurement[];
  records: Plan['records'];
  plantText: (potId: string) => string;
  draft: Draft | null;
  questions: ReadonlyMap<string, readonly ValueQuestion[]>;
  passed: ReadonlySet<string>;
  current: CellPlace | null;
}

/** The lines from one row up to another, that one left out. */
export function rowViews(source: RowSource, from: number, to: number): RowView[] {
  const { pots, measurements, records, draft, questions, passed, current } = source;
  const currentRow = pots.findIndex((pot) => pot.id === current?.potId);
  const stopRow = currentRow >= from && currentRow < to ? currentRow : from;
  const stopColumn = current?.measurementId ?? measurements[0]?.id;
  return pots.slice(from, to).map((pot, i) => {
    const row = from + i;
    const isStruck = records.marks[pot.id] !== undefined;
    return {
      pot,
      row,
      isStruck,
      isCurrent: !isStruck && pot.id === current?.potId,
      plant: source.plantText(pot.id),
      cells: measurements.map((m) => {
        const key = cellKey(m.id, pot.id);
        const typed = draft?.key === key ? draft : null;
        return {
          shown: shownValue(records.values[m.id]?.[pot.id], m),
          draft: typed && typed.text,
          problem: typed && typed.problem,
          question: questions
            .get(key)
            ?.map(({ text }) => text)
            .join(' '),
          passed: passed.has(key),
          isStop: row === stopRow && m.id === stopColumn,
        };
      }),
    };
  });
}

/** Whether two lines show the same, so that the one on the page can stay as it is. */
export function sameRow(a: RowView, b: RowView): boolean {
  const { cells: aCells, ...aLine } = a;
  const { cells: bCells, ...bLine } = b;
  return (
    alike(aLine, bLine) &&
    aCells.length === bCells.length &&
    aCells.every((cell, i) => {
      const other = bCells[i];
      return other !== undefined && alike(cell, other);
    })
  );
}

/** Objects of plain values, entry by entry. */
function alike<T extends object>(a: T, b: T): boolean {
  for (const name in a) if (!Object.is(a[name], b[name])) return false;
  return true;
}

/** A value as its cell shows it; nothing recorded is an empty text. */
export function shownValue(value: number | undefined, { decimals }: Measurement): string {
  if (value === undefined) return '';
  // An imported value may have more digits than are stated; they are kept, and shown.
  return rounded(value, decimals) === value ? fixed(value, decimals) : fieldNumber(value);
}

/** The plant's code where it has one, what became of it, and whether something is noted. */
export function plantWords(
  layout: Plan['layout'],
  { marks, notes }: Pick<Plan['records'], 'marks' | 'notes'>,
): (potId: string) => string {
  const codes = new Map(layout?.assignments.map((a) => [a.potId, a.plant]));
  return (potId) => {
    const mark = marks[potId];
    const code = codes.get(potId) ?? null;
    const state = mark && `${mark.mark}${mark.date === null ? '' : ` ${sayDay(mark.date)}`}`;
    const noted = notes?.[potId] ? 'noted' : undefined;
    const known = [state, code ?? (state === undefined ? 'alive' : null), noted];
    return known.filter(Boolean).join(' · ');
  };
}
