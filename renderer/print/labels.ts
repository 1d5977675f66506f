import type { Plan } from '../../shared-types/plan';
import { placedPotsOf, potsOf } from '../derive';
import { walkingOrder } from '../engine/geometry';
import type { Page } from './document';
import { MARGIN_MM, paperMm, type Paper } from './paper';
import { escape } from './text';

/** A sheet of equal labels. Margins are equal on opposite sides, so that grid and paper close. */
export interface LabelSheet {
  columns: number;
  rows: number;
  widthMm: number;
  heightMm: number;
  gapXMm: number;
  gapYMm: number;
}

/** Plain cut labels: three across, ten down, inside the margin of any printer. */
export function plainLabels(paper: Paper): LabelSheet {
  const { width, height } = paperMm[paper];
  const columns = 3;
  const rows = 9;
  return {
    columns,
    rows,
    widthMm: (width - 2 * MARGIN_MM) / columns,
    heightMm: (height - 2 * MARGIN_MM - 22) / rows,
    gapXMm: 0,
    gapYMm: 0,
  };
}

/** One label a drawn pot, in walking order: code large, treatment letter, levels, plant. */
export function labelPages(plan: Plan, paper: Paper, sheet = plainLabels(paper)): Page[] {
  const placed = placedPotsOf(plan);
  const pots = walkingOrder(potsOf(plan)).filter((pot) => placed.has(pot.id) || !plan.layout);
  const measured = pots.filter((pot) => !pot.guard);
  const perPage = sheet.columns * sheet.rows;
  const pages: Page[] = [];
  for (let from = 0; from < measured.length; from += perPage) {
    const cells = measured.slice(from, from + perPage).map((pot) => {
      const place = placed.get(pot.id);
      const letter = place?.treatment?.letter ?? '';
      return `<div class="label"><strong>${escape(pot.code)}</strong><span class="letter">${escape(letter)}</span><span class="levels">${escape(place?.treatment?.name ?? '')}</span>${place?.plant ? `<span class="levels">plant ${escape(place.plant)}</span>` : ''}</div>`;
    });
    pages.push({
      sheet: { paper, wide: false },
      heading: `Pot labels, ${measured[from]?.code ?? ''} to ${measured[Math.min(from + perPage, measured.length) - 1]?.code ?? ''}`,
      body: `<style>.labels{display:grid;grid-template-columns:repeat(${sheet.columns},${sheet.widthMm}mm);grid-auto-rows:${sheet.heightMm}mm;gap:${sheet.gapYMm}mm ${sheet.gapXMm}mm}.label{display:grid;grid-template-columns:1fr auto;align-content:center;gap:0 2mm;padding:2mm;border:.15mm dashed #777;overflow:hidden}.label strong{font-size:16pt;line-height:1.1;white-space:nowrap}.label .letter{font-size:16pt;font-weight:700;line-height:1.1}.label .levels{grid-column:1/3;font-size:8pt;line-height:1.15}</style><div class="labels">${cells.join('')}</div>`,
    });
  }
  return pages;
}
