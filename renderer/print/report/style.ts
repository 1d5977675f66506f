import { paperMm, type Paper } from '../paper';
import { PAGE_FONT } from '../text';

/** How the report looks, on screen and on paper; legible in black and white. */
export function reportCss(paper: Paper): string {
  const { width, height } = paperMm[paper];
  return `
  @page { size: ${width}mm ${height}mm; margin: 15mm; @bottom-right { content: counter(page) " of " counter(pages); font: 8pt ${PAGE_FONT}; } }
  * { box-sizing: border-box; }
  body { margin: 0 auto; max-width: ${width - 30}mm; color: #000; background: #fff; font: 10pt/1.4 ${PAGE_FONT}; }
  h1 { font-size: 20pt; line-height: 1.2; margin: 0 0 4mm; }
  h2 { font-size: 13pt; margin: 7mm 0 2mm; border-bottom: .3mm solid #000; break-after: avoid; }
  p { margin: 0 0 2mm; }
  ul { margin: 0 0 2mm; padding-left: 5mm; }
  table { width: 100%; border-collapse: collapse; margin: 2mm 0 4mm; font-size: 8.5pt; font-variant-numeric: tabular-nums; }
  caption { text-align: left; font-weight: 700; padding-bottom: 1mm; }
  thead { display: table-header-group; }
  tr { break-inside: avoid; }
  th, td { padding: .6mm 1.5mm; text-align: left; border-bottom: .15mm solid #999; vertical-align: top; }
  thead th { vertical-align: bottom; }
  .short { break-inside: avoid; }
  table + p { break-before: avoid; font-size: 8.5pt; }
  thead th { border-bottom: .3mm solid #000; }
  tbody th { font-weight: 400; }
  .w { white-space: nowrap; }
  .n { text-align: right; white-space: nowrap; }
  thead .n { white-space: normal; }
  .n + :not(.n) { padding-left: 5mm; }
  .unit { display: block; font-weight: 400; color: #444; }
  .under { display: block; font-weight: 400; }
  .marked > * { font-weight: 700; }
  figure { margin: 2mm 0 4mm; break-inside: avoid; }
  figure svg { max-width: 100%; height: auto; overflow: visible; }
  .shelf svg { width: 100%; max-height: 76mm; }
  p:has(+ figure), p:has(+ table) { break-after: avoid; }
  figcaption { font-size: 8.5pt; color: #333; }
  .answers { display: grid; grid-template-columns: 1fr 1fr; gap: 3mm; margin: 2mm 0 3mm; }
  .answer { border: .3mm solid #000; border-radius: 1mm; padding: 2mm 3mm; break-inside: avoid; }
  .answer p { margin: 0 0 .5mm; }
  .answer .of { font-size: 8.5pt; color: #333; }
  .answer .headline { font-size: 13pt; font-weight: 700; line-height: 1.2; }
  @media screen and (max-width: 600px) { .answers { grid-template-columns: 1fr; } }
  .pair { display: grid; grid-template-columns: 1fr 1fr; gap: 4mm; }
  @media screen { body { padding: 8mm; } }
`;
}
