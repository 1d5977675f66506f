import { unbroken } from '../../engine/findings';
import { html, raw, type Fragment, type Html } from '../html';
import type { FindingsTable } from './cells';
import type { Figure } from './figures';

/** Words up to so many letters are kept in one line, where a line of the page holds them all. */
const KEPT = 40;
const LINE = 125;

/** A table of so many rows is kept on one page. */
const SHORT = 14;

/** Width of a figure in the report, px at 96 an inch; the page is about 700 wide. */
export const FIGURE = 640;

/** null where there is nothing to say under the title. */
export function section(title: string, content: Fragment): Html | null {
  const inner = html`${content}`;
  return inner.markup === ''
    ? null
    : html`<section><h2>${title}</h2>${inner}</section>
`;
}

export function paragraphsHtml(texts: readonly string[]): Fragment {
  return texts.map((text) => html`<p>${unbroken(text)}</p>`);
}

export function figureHtml(figure: Figure | null): Html | null {
  if (!figure) return null;
  return html`<figure>${raw(figure.svg)}<figcaption>${figure.label}</figcaption></figure>`;
}

export function listHtml(items: readonly string[]): Html {
  return html`<ul>${items.map((item) => html`<li>${item}</li>`)}</ul>`;
}

/** Whether there is room to keep short words of every column in one line. */
function keepsWords({ columns, rows }: FindingsTable): boolean {
  const widths = columns.map(({ head }, k) => {
    const longest = Math.max(...rows.map((cells) => cells[k]?.text.length ?? 0));
    return Math.max(head.length, Math.min(longest, KEPT));
  });
  return widths.reduce((sum, width) => sum + width, 0) <= LINE;
}

export function tableHtml(table: FindingsTable | null): Html | null {
  if (!table || table.rows.length === 0) return null;
  const numeric = html` class="n"`;
  const head = table.columns.map(
    (c) =>
      html`<th scope="col"${c.numeric ? numeric : null}>${c.head}${c.unit ? html`<span class="unit">${c.unit}</span>` : null}</th>`,
  );
  const kept = keepsWords(table) && html` class="w"`;
  const rows = table.rows.map((cells, i) => {
    const inner = cells.map((cell, k) => {
      const text = [
        cell.strong ? html`<strong>${cell.text}</strong>` : cell.text,
        [cell.under, cell.mark].map((line) =>
          line ? html`<span class="under">${line}</span>` : null,
        ),
      ];
      const look = table.columns[k]?.numeric ? numeric : cell.text.length <= KEPT && kept;
      return k === 0 ? html`<th scope="row"${look}>${text}</th>` : html`<td${look}>${text}</td>`;
    });
    return html`<tr${i === table.marked && html` class="marked"`}>${inner}</tr>`;
  });
  const short = table.rows.length <= SHORT && html` class="short"`;
  return html`<table${short}><caption>${table.caption}</caption><thead><tr>${head}</tr></thead><tbody>${rows}</tbody></table>${table.note ? paragraphsHtml([table.note]) : null}`;
}
