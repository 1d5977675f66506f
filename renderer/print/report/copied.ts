import { writeDelimited } from '../../tables';
import { html } from '../html';
import type { FindingsTable, ReportCell } from './cells';
import { fullLines } from './csv';
import { spokenLocale } from '../../words';

/**
 * A table as it goes onto the clipboard: what reads text gets full figures, what reads HTML the words.
 * Both by the decimal sign in use: a spreadsheet of this computer takes another for a text or a day.
 */
export interface CopiedTable {
  /** Separated by tabs. */
  text: string;
  html: string;
}

export function copiedTable(table: FindingsTable): CopiedTable {
  const head = table.columns.map(
    ({ head: name, unit }) => html`<th>${unit ? `${name} (${unit})` : name}</th>`,
  );
  const rows = table.rows.map(
    (cells) => html`<tr>${cells.map((cell) => html`<td>${cellText(cell)}</td>`)}</tr>`,
  );
  return {
    text: writeDelimited(fullLines(table), {
      separator: '\t',
      lineEnd: '\n',
      decimal: spokenLocale().decimal,
    }),
    html: html`<table><caption>${table.caption}</caption><thead><tr>${head}</tr></thead><tbody>${rows}</tbody></table>`
      .markup,
  };
}

/** As it is read; a figure alone with the hyphen that spreadsheets take for a minus. */
function cellText(cell: ReportCell): string {
  const { text, value, under, mark } = cell;
  const alone = typeof value === 'number' && under === undefined && mark === undefined;
  if (alone) return text.replace(/^−/, '-');
  return [text, under && `(${under})`, mark].filter(Boolean).join(' ');
}
