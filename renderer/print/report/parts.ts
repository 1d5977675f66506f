import { unbroken } from '../../engine/findings';
import { writeDelimited } from '../../tables';
import { plainFixed } from '../../words';
import { html, raw, type Fragment, type Html } from '../html';
import type { FindingsTable } from './cells';
import { fullLines } from './csv';
import { figureFile, type Figure, type FigureSize } from './figures';

/** Words up to so many letters are kept in one line, where a line of the page holds them all. */
const KEPT = 40;
const LINE = 125;

/** A table of so many rows is kept on one page. */
const SHORT = 14;

/** Width of a figure on paper, px at 96 an inch; a page is 680 to 700 wide between its margins. */
export const FIGURE = 680;
export const HALF = 330;
/** On a phone's screen. */
const PHONE = 350;

/** A short name, and what is said of it. */
export type Fact = [name: string, said: string];

/** null where there is nothing to say under the title. */
export function section(title: string, content: Fragment): Html | null {
  const inner = html`${content}`;
  const id = idOf(title);
  return inner.markup === ''
    ? null
    : html`<section aria-labelledby="${id}"><h2 id="${id}">${title}</h2>${inner}</section>
`;
}

/** The place of a section within the document. */
export const idOf = (title: string): string =>
  title
    .toLowerCase()
    .replace(/[^a-z]+/g, '-')
    .replace(/^-|-$/g, '');

export function paragraphsHtml(texts: readonly string[]): Fragment {
  return texts.map((text) => html`<p>${unbroken(text)}</p>`);
}

/** A figure as wide as its place on paper, and drawn anew for a phone, where it would shrink. */
export function figureHtml(draw: (size: FigureSize) => Figure | null, width = FIGURE): Html | null {
  const figure = draw({ width });
  const narrow = draw({ width: PHONE });
  if (!figure || !narrow) return null;
  return html`<figure style="--tall:${tallness(figure)}"><div class="wide">${raw(figure.svg)}</div><div class="narrow">${raw(narrow.svg)}</div><figcaption>${figure.label} ${fileLink(`${figure.name}.svg`, 'image/svg+xml', figureFile(figure), 'SVG')}</figcaption></figure>`;
}

/** Height over width of a drawing: the first page gives it so much room, and less where it must. */
function tallness({ svg }: Figure): string {
  const side = (name: string) => Number(new RegExp(` ${name}="([\\d.]+)"`).exec(svg)?.[1]);
  return plainFixed(side('height') / side('width'), 4);
}

/** A link that saves a file which the document itself holds; nothing of it is printed. */
export function fileLink(name: string, type: string, text: string, words: string): Html {
  const data = `data:${type};charset=utf-8,${encodeURIComponent(text)}`;
  return html`<a class="take" download="${name}" href="${data}" aria-label="Save ${name}">${words}</a>`;
}

export function listHtml(items: readonly string[]): Html {
  return html`<ul>${items.map((item) => html`<li>${item}</li>`)}</ul>`;
}

/** Facts under each other, each with its name before it. */
export function factsHtml(title: string, facts: readonly Fact[]): Html | null {
  if (facts.length === 0) return null;
  const rows = facts.map(
    ([name, said]) => html`<tr><th scope="row">${name}</th><td>${said}</td></tr>`,
  );
  return html`<table class="facts short"><caption>${title}</caption><tbody>${rows}</tbody></table>`;
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
  const csv = writeDelimited(fullLines(table));
  return html`<div class="table"><div class="scroll" role="group" aria-label="${table.caption}" tabindex="0"><table${short}><caption><span>${table.caption} ${fileLink(`${table.name}.csv`, 'text/csv', csv, 'CSV')}</span></caption><thead><tr>${head}</tr></thead><tbody>${rows}</tbody></table></div>${table.note ? paragraphsHtml([table.note]) : null}</div>`;
}

/** Two things beside each other where there is room, under each other on a phone. */
export function pairHtml(...parts: Fragment[]): Html | null {
  const there = parts.map((part) => html`${part}`).filter(({ markup }) => markup !== '');
  if (there.length === 0) return null;
  return html`<div class="pair">${there.map((part) => html`<div>${part}</div>`)}</div>`;
}
