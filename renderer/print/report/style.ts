import { paperMm, type Paper } from '../paper';
import { PAGE_FONT } from '../text';

const MARGIN_MM = 14;

/** How the report looks on paper, on a screen and on a phone; legible in black and white. */
export function reportCss(paper: Paper): string {
  const { width, height } = paperMm[paper];
  return `
  @page { size: ${width}mm ${height}mm; margin: ${MARGIN_MM}mm; @bottom-right { content: counter(page) " of " counter(pages); font: 8pt ${PAGE_FONT}; } }
  * { box-sizing: border-box; }
  body { margin: 0 auto; max-width: ${width - 2 * MARGIN_MM}mm; color: #000; background: #fff; font: 9.3pt/1.33 ${PAGE_FONT}; overflow-wrap: break-word; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  h1 { font-size: 19pt; line-height: 1.15; margin: 0 0 1.5mm; }
  h2 { font-size: 13pt; line-height: 1.2; margin: 4.5mm 0 1.5mm; border-bottom: .3mm solid #000; break-after: avoid; }
  p { margin: 0 0 1.5mm; }
  ul { margin: 0 0 1.5mm; padding-left: 5mm; }
  li { margin-bottom: .6mm; }
  table { width: 100%; border-collapse: collapse; font-size: 8.2pt; line-height: 1.25; font-variant-numeric: tabular-nums; }
  .table, .facts { margin: 1mm 0 2.5mm; }
  .table > p { font-size: 8.2pt; margin-top: 1mm; }
  caption { text-align: left; font-weight: 700; padding-bottom: .6mm; }
  thead { display: table-header-group; }
  tr { break-inside: avoid; }
  th, td { padding: .45mm 1.5mm .45mm 0; text-align: left; border-bottom: .15mm solid #999; vertical-align: top; }
  thead th { vertical-align: bottom; border-bottom: .3mm solid #000; }
  tbody th { font-weight: 400; }
  .facts th { width: 34%; color: #333; }
  .short { break-inside: avoid; }
  .table:has(> .scroll > .short) { break-inside: avoid; }
  .table > p { break-before: avoid; }
  .w { white-space: nowrap; }
  .n { text-align: right; white-space: nowrap; }
  thead .n { white-space: normal; }
  .n + :not(.n) { padding-left: 4mm; }
  .unit { display: block; font-weight: 400; color: #444; white-space: nowrap; }
  .pair .unit { white-space: normal; }
  .under { display: block; font-weight: 400; }
  .marked > * { font-weight: 700; }
  figure { margin: 1mm 0 2mm; break-inside: avoid; }
  figure.photo img { max-width: 70mm; max-height: 60mm; }
  figure svg { display: block; max-width: 100%; height: auto; overflow: visible; }
  figcaption { font-size: 8.2pt; color: #333; }
  .narrow { display: none; }
  .question { font-size: 10.5pt; color: #222; }
  .answers { display: grid; grid-template-columns: 1fr 1fr; gap: 2.5mm; margin: 0 0 2mm; }
  .answer { border: .3mm solid #000; border-left-width: 1.2mm; border-radius: .8mm; padding: 1.6mm 2.5mm; break-inside: avoid; }
  .answer p { margin: 0 0 .4mm; }
  .answer .of { font-size: 8.2pt; color: #333; }
  .answer .headline { font-size: 12pt; font-weight: 700; line-height: 1.2; }
  .remarks { margin: 0 0 1mm; font-size: 8.2pt; line-height: 1.25; }
  .remarks div { display: flex; gap: 2mm; margin-bottom: .4mm; }
  .remarks dt { flex: none; width: 25mm; color: #333; }
  .remarks dd { margin: 0; }
  .sure { border: .25mm solid #000; border-radius: 2mm; padding: 0 1.2mm; white-space: nowrap; }
  .pair { display: grid; grid-template-columns: 1fr 1fr; gap: 5mm; align-items: start; }
  .pair > * { min-width: 0; }
  .pair > :only-child { grid-column: 1 / -1; }
  .maps { display: grid; grid-template-columns: 1fr 1fr; gap: 1.5mm 4mm; margin: 1.5mm 0 3mm; }
  .map { margin: 0; }
  .map svg { width: 100%; max-height: 88mm; }
  .key { columns: 3; list-style: none; padding: 0; margin: 0 0 2mm; font-size: 8.2pt; }
  .key li { display: flex; gap: 1.5mm; align-items: center; break-inside: avoid; }
  .key svg { flex: none; }
  @media print {
    .take, nav { display: none; }
    .first { display: flex; flex-direction: column; height: ${height - 2 * MARGIN_MM - 1}mm; break-after: page; }
    .first section { display: flex; flex-direction: column; flex: 1; min-height: 0; }
    .first h2 { margin-top: 3mm; }
    .first figure { display: flex; flex-direction: column; flex: 0 1 calc(var(--tall) * ${width - 2 * MARGIN_MM}mm + 6mm); min-height: 0; margin: 1.5mm 0 2mm; }
    .first figure .wide { flex: 1; min-height: 0; }
    .first figure svg { width: 100%; height: 100%; }
    .first + nav + section > h2 { margin-top: 0; }
  }
  @media screen {
    body { padding: 8mm; max-width: ${width}mm; font-size: 16px; }
    table, figcaption, .key, .table > p, .answer .of, .remarks { font-size: 14px; }
    h1 { font-size: 28px; }
    h2 { font-size: 21px; margin-top: 36px; }
    .question { font-size: 17px; }
    .answer .headline { font-size: 19px; }
    .scroll { overflow-x: auto; }
    .take { font-weight: 400; font-size: 13px; padding: 0 4px; }
    .on-paper { display: none; }
    .files .take { font-size: inherit; font-weight: 700; padding: 0; }
    nav ul { columns: 2; list-style: none; padding: 0; margin: 24px 0 0; }
    nav a { display: inline-block; padding: 4px 0; }
    a { color: #5a2a6b; }
  }
  @media screen and (max-width: 600px) {
    body { padding: 16px; }
    .answers, .pair, .maps { grid-template-columns: minmax(0, 1fr); }
    .key { columns: 1; }
    .wide { display: none; }
    .narrow { display: block; }
    th, td { padding: 4px 8px 4px 0; }
    .scroll tbody th { min-width: 9em; }
    caption > span { display: inline-block; position: sticky; left: 0; max-width: calc(100vw - 32px); }
  }
`;
}
