import { MARGIN_MM, paperMm, type Sheet } from './paper';
import { escape } from './text';

export interface Page {
  sheet: Sheet;
  /** HTML of the page's body, without header and footer. */
  body: string;
  /** What this page is, e.g. `Planting chart, tray 2B`. */
  heading: string;
}

export interface PrintedDocument {
  /** Plan title. */
  title: string;
  /** What stands on the right of every header, e.g. seed and date of the draw. */
  origin: string;
  pages: readonly Page[];
}

const PAGE_CSS = `
  * { box-sizing: border-box; }
  html, body { margin: 0; color: #000; background: #fff; }
  body { font: 10pt/1.3 'Atkinson Hyperlegible Next Variable', 'Atkinson Hyperlegible', 'Liberation Sans', Arial, 'DejaVu Sans', sans-serif; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  .page { position: relative; display: flex; flex-direction: column; gap: 2mm; overflow: hidden; padding: ${MARGIN_MM}mm; break-after: page; }
  .page:last-child { break-after: auto; }
  .page-head { display: flex; justify-content: space-between; align-items: baseline; gap: 6mm; border-bottom: .4mm solid #000; padding-bottom: 1mm; }
  .page-head h1 { margin: 0; font-size: 14pt; line-height: 1.15; }
  .page-head .origin { font-size: 8pt; text-align: right; }
  .page-body { flex: 1; min-height: 0; }
  .page-foot { display: flex; justify-content: space-between; font-size: 8pt; }
  table { width: 100%; border-collapse: collapse; font-variant-numeric: tabular-nums; }
  th, td { padding: .8mm 2mm .8mm 0; text-align: left; vertical-align: bottom; border-bottom: .15mm solid #888; }
  th { font-size: 8.5pt; }
  .number { text-align: right; }
  h2 { margin: 3mm 0 1mm; font-size: 12pt; }
  p { margin: 0 0 1.5mm; }
  @media screen {
    body { background: #b9c2bd; }
    .page { margin: 6mm auto; background: #fff; box-shadow: 0 1mm 4mm #0005; }
  }
`;

function pageName(sheet: Sheet): string {
  return `${sheet.paper.toLowerCase()}${sheet.wide ? 'wide' : 'tall'}`;
}

function sizesCss(pages: readonly Page[]): string {
  const sheets = new Map(pages.map((page) => [pageName(page.sheet), page.sheet]));
  return [...sheets]
    .map(([name, sheet]) => {
      const { width, height } = paperMm[sheet.paper];
      const [w, h] = sheet.wide ? [height, width] : [width, height];
      return `@page ${name} { size: ${w}mm ${h}mm; margin: 0; } .${name} { page: ${name}; width: ${w}mm; height: ${h}mm; }`;
    })
    .join('\n');
}

/** A whole HTML document of fixed pages, each with title, origin and page number. */
export function htmlDocument(printed: PrintedDocument): string {
  const count = printed.pages.length;
  const pages = printed.pages.map(
    (page, i) => `<section class="page ${pageName(page.sheet)}">
<header class="page-head"><h1>${escape(page.heading)}</h1><div class="origin">${escape(printed.title)}<br>${escape(printed.origin)}</div></header>
<div class="page-body">${page.body}</div>
<footer class="page-foot"><span>Print at 100 %; the bar is 100 mm long. <svg width="100mm" height="2mm" viewBox="0 0 100 2" role="img" aria-label="bar of 100 mm"><path d="M0.1,0V2M0,1H100M99.9,0V2M50,0.4V1.6" stroke="#000" stroke-width=".2" fill="none"/></svg></span><span>Page ${i + 1} of ${count}</span></footer>
</section>`,
  );
  const first = printed.pages[0];
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escape(printed.title)} – ${escape(first?.heading ?? '')}</title>
<style>${PAGE_CSS}${sizesCss(printed.pages)}</style></head>
<body>${pages.join('\n')}</body></html>
`;
}
