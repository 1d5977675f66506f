import { frameLines, headMm, originLines, type Frame } from './frame';
import { html, raw, type Fragment, type Html } from './html';
import { MARGIN_MM, sheetMm, type Sheet } from './paper';
import { fitText, mm, PAGE_FONT, ptToMm } from './text';
import { EXACT_PRINTER, fitCss } from './printer';
import type { PrinterFit } from '../../shared-types/window/printing';
import type { UnitSystem } from '../words';

export interface Page {
  sheet: Sheet;
  /** Makes the HTML of the page's body, without header and footer. */
  body: () => Fragment;
  /** What this page is, e.g. `Planting chart, tray 2B`. */
  heading: string;
  /**
   * The body is the whole sheet and carries title, origin and page number itself: sheets of labels,
   * whose cells leave no room for a header.
   */
  whole?: boolean;
}

const PAGE_CSS = `
  * { box-sizing: border-box; }
  html, body { margin: 0; color: #000; background: #fff; }
  body { font: 10pt/1.3 ${PAGE_FONT}; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  .page { position: relative; overflow: hidden; padding: ${MARGIN_MM}mm; break-after: page; }
  .page:last-child { break-after: auto; }
  .whole { padding: 0; }
  .page-head { border-bottom: .4mm solid #000; overflow: hidden; }
  .page-head h1 { margin: 0; height: ${frameLines.headingMm}mm; font-size: 14pt; line-height: ${frameLines.headingMm}mm; white-space: nowrap; }
  .page-head .origin { font-size: 9pt; line-height: ${frameLines.originLineMm}mm; white-space: nowrap; }
  .page-body { position: absolute; left: ${MARGIN_MM}mm; right: ${MARGIN_MM}mm; }
  .page-foot { position: absolute; left: ${MARGIN_MM}mm; right: ${MARGIN_MM}mm; bottom: ${MARGIN_MM}mm; display: flex; justify-content: space-between; align-items: flex-end; font-size: 8pt; line-height: 1; }
  svg { display: block; }
  .page-foot svg { display: inline-block; }
  p { margin: 0 0 1.5mm; }
  @media screen {
    html, body { background: #b9c2bd; }
    .page { margin: 6mm auto; background: #fff; box-shadow: 0 1mm 4mm #0005; }
  }
`;

/** The bar by which a page's size is checked, in the units of the person's ruler. */
export const RULER: Record<UnitSystem, { mm: number; words: string }> = {
  metric: { mm: 100, words: '100 mm' },
  imperial: { mm: 101.6, words: '4 in' },
};

function pageName(sheet: Sheet): string {
  return `${sheet.paper.toLowerCase()}${sheet.wide ? 'wide' : 'tall'}`;
}

function sizesCss(pages: readonly Page[]): string {
  const sheets = new Map(pages.map((page) => [pageName(page.sheet), page.sheet]));
  return [...sheets]
    .map(([name, sheet]) => {
      const { width, height } = sheetMm(sheet);
      return `@page ${name} { size: ${width}mm ${height}mm; margin: 0; } .${name} { page: ${name}; width: ${width}mm; height: ${height}mm; }`;
    })
    .join('\n');
}

function pageHtml(page: Page, frame: Frame, number: number, count: number): Html {
  const name = pageName(page.sheet);
  if (page.whole) {
    return html`<section class="page whole ${name}"><div class="fitted">${page.body()}</div></section>`;
  }
  const { sheet } = page;
  const ruler = RULER[frame.lengths];
  const width = sheetMm(sheet).width - 2 * MARGIN_MM;
  const heading = fitText(page.heading, ptToMm(14), width, true);
  const head = headMm(frame, sheet);
  return html`<section class="page ${name}"><div class="fitted">
<header class="page-head" style="height:${mm(head - 1.5)}mm"><h1>${heading}</h1>${originLines(
    frame,
    sheet,
  ).map((line) => html`<div class="origin">${line}</div>`)}</header>
<div class="page-body" style="top:${mm(MARGIN_MM + head)}mm">${page.body()}</div>
<footer class="page-foot"><span>Print at 100 %; this bar is ${ruler.words} long: <svg width="${ruler.mm}mm" height="2mm" viewBox="0 0 ${ruler.mm} 2" role="img" aria-label="bar of ${ruler.words}"><path d="M0.1,0V2M0,1H${ruler.mm}M${mm(ruler.mm - 0.1)},0V2M${ruler.mm / 2},0.4V1.6" stroke="#000" stroke-width=".2" fill="none"/></svg></span><span>Page ${number} of ${count}</span></footer>
</div></section>
`;
}

/**
 * A whole HTML document of fixed pages, each with title, origin and page number; `most` leaves off
 * the pages after so many, for a preview. Pages for the screen are those of an exact printer.
 */
export function htmlDocument(
  title: string,
  frame: Frame,
  pages: readonly Page[],
  { most = Infinity, printer = EXACT_PRINTER }: { most?: number; printer?: PrinterFit } = {},
): string {
  const sections = pages
    .slice(0, most)
    .map((page, i) => pageHtml(page, frame, i + 1, pages.length));
  return html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${frame.title} – ${title}</title>
<style>${raw(PAGE_CSS + fitCss(printer) + sizesCss(pages))}</style></head>
<body>${sections}</body></html>
`.markup;
}
