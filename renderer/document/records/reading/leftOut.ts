import type { CellReport, RowReport, TablePreview } from './outcome';
import { fieldNumber } from '../../../words';

/** A line of the table, or one cell of it, that is left out. */
export interface LeftOutLine {
  line: number;
  /** Counted from 0; null: the whole line. */
  column: number | null;
  code: string;
  text: string;
  why: string;
}

/** In the order of the lines; a line that is left out whole stands before its cells. */
export function leftOutOf({ rows, cells }: Pick<TablePreview, 'rows' | 'cells'>): LeftOutLine[] {
  return [
    ...rows.map(({ line, code, problem }) => ({
      line,
      column: null,
      code,
      text: '',
      why: ROW_WORDS[problem],
    })),
    ...cells.flatMap(({ line, column, code, text, outcome }) => {
      const why = troubleOf(outcome);
      return why === null ? [] : [{ line, column, code, text, why }];
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
      return `can be ${outcome.asGrouped} or ${fieldNumber(outcome.asDecimal)}; the decimal mark has to be said`;
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
    case 'merged':
      return 'cells of several pots are merged; a value of its own is expected';
    case 'no-pot':
      return 'no pot for this line';
  }
}
