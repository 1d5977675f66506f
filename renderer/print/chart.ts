import type { Plan } from '../../shared-types/plan';
import type { Shelf, Tray } from '../../shared-types/rack';
import { placedPotsOf, treatmentsOfPlan } from '../derive';
import { holeCentre, letterOf, potsOfTray, trayCode } from '../engine/geometry';
import type { Page } from './document';
import { printable, type Paper, type Sheet } from './paper';
import { mm, ptToMm, escape } from './text';
import { patternDefs, treatmentMark } from './treatmentMark';

/** Beyond this many treatments the key gets a page of its own. */
const KEY_ON_CHART = 24;
const HEAD_MM = 13;
const FOOT_MM = 7;
/** Room around the tray for row letters, column numbers and the words FRONT and LEFT. */
const RIM_MM = { left: 13, right: 5, top: 6, bottom: 11 };

/** Planting charts: one page a tray, to scale, seen from above with the front at the bottom. */
export function chartPages(plan: Plan, paper: Paper): Page[] {
  const treatments = treatmentsOfPlan(plan);
  const ownKey = treatments.length > KEY_ON_CHART;
  const pages = plan.rack.shelves.flatMap((shelf) =>
    shelf.trays.flatMap((tray) => (tray.grid ? [trayPage(plan, shelf, tray, paper, !ownKey)] : [])),
  );
  if (ownKey) {
    pages.push({
      sheet: { paper, wide: false },
      heading: 'Key to the planting charts',
      body: keyHtml(plan, 'key', 2),
    });
  }
  return pages;
}

function trayPage(plan: Plan, shelf: Shelf, tray: Tray, paper: Paper, withKey: boolean): Page {
  const sheet: Sheet = { paper, wide: tray.widthMm >= tray.depthMm };
  const room = printable(sheet);
  const keyColumns = sheet.wide ? 4 : 3;
  const keyRows = withKey ? Math.ceil((treatmentsOfPlan(plan).length + 1) / keyColumns) : 0;
  const keyMm = keyRows * 6.6 + 3;
  const width = room.width;
  const height = room.height - HEAD_MM - FOOT_MM - keyMm - 4;
  const id = `c${tray.id}`;
  const svg = traySvg(plan, shelf, tray, { id, width, height });
  return {
    sheet,
    heading: `Planting chart, tray ${trayCode(shelf.number, tray.letter)}`,
    body: svg.html + (withKey ? keyHtml(plan, `${id}k`, keyColumns) : ''),
  };
}

function traySvg(
  plan: Plan,
  shelf: Shelf,
  tray: Tray,
  box: { id: string; width: number; height: number },
): { html: string } {
  const grid = tray.grid;
  if (!grid) return { html: '' };
  const scale = Math.min(
    (box.width - RIM_MM.left - RIM_MM.right) / tray.widthMm,
    (box.height - RIM_MM.top - RIM_MM.bottom) / tray.depthMm,
    1,
  );
  const drawnWidth = tray.widthMm * scale;
  const drawnDepth = tray.depthMm * scale;
  const left = RIM_MM.left + (box.width - RIM_MM.left - RIM_MM.right - drawnWidth) / 2;
  const top = RIM_MM.top;
  const x = (trayX: number) => left + trayX * scale;
  // The front of the shelf, y = 0, is at the bottom of the page.
  const y = (trayY: number) => top + drawnDepth - trayY * scale;
  const radius = (grid.potDiameterMm / 2) * scale;
  const placed = placedPotsOf(plan);
  const parts: string[] = [
    `<rect x="${mm(left)}" y="${mm(top)}" width="${mm(drawnWidth)}" height="${mm(drawnDepth)}" rx="1.5" fill="none" stroke="#000" stroke-width=".5"/>`,
  ];

  const lineText = ptToMm(9);
  for (let row = 1; row <= grid.rows; row++) {
    const centre = holeCentre(grid, row, 1);
    parts.push(
      `<text x="${mm(left - 2)}" y="${mm(y(centre.yMm) + lineText * 0.36)}" font-size="${mm(lineText)}" font-weight="700" text-anchor="end">${letterOf(row)}</text>`,
    );
  }
  // Every column is numbered where the numbers do not touch.
  const stride = Math.max(1, Math.ceil(6 / (grid.pitchXMm * scale)));
  for (let column = 1; column <= grid.columns; column++) {
    if (column !== 1 && column % stride !== 0) continue;
    const centre = holeCentre(grid, 1, column);
    parts.push(
      `<text x="${mm(x(centre.xMm))}" y="${mm(top + drawnDepth + 4)}" font-size="${mm(lineText)}" font-weight="700" text-anchor="middle">${column}</text>`,
    );
  }

  const codeMm = Math.min(ptToMm(9), radius * 0.42);
  const showCode = codeMm >= ptToMm(6);
  const letterMm = Math.min(ptToMm(18), radius * (showCode ? 0.72 : 1));
  const present = new Set<string>();
  for (const pot of potsOfTray(shelf, tray)) {
    present.add(`${pot.row}:${pot.column}`);
    const centre = holeCentre(grid, pot.row, pot.column);
    const cx = x(centre.xMm);
    const cy = y(centre.yMm);
    const place = placed.get(pot.id);
    if (place?.treatment) {
      parts.push(
        treatmentMark(box.id, place.index, place.treatment.letter, {
          x: cx,
          y: cy - (showCode ? radius * 0.2 : 0),
          radius: showCode ? radius * 0.72 : radius * 0.9,
          letterMm,
        }),
        `<circle cx="${mm(cx)}" cy="${mm(cy)}" r="${mm(radius)}" fill="none" stroke="#000" stroke-width=".2"/>`,
      );
    } else {
      parts.push(
        `<circle cx="${mm(cx)}" cy="${mm(cy)}" r="${mm(radius)}" fill="none" stroke="#000" stroke-width=".25" ${pot.guard ? 'stroke-dasharray="1 .8"' : ''}/>`,
        pot.guard
          ? `<text x="${mm(cx)}" y="${mm(cy + letterMm * 0.1)}" font-size="${mm(Math.max(ptToMm(6), letterMm * 0.6))}" text-anchor="middle">guard</text>`
          : '',
      );
    }
    if (showCode) {
      const code = pot.code.slice(pot.code.indexOf('-') + 1);
      const tick = codeMm * 0.9;
      parts.push(
        `<text x="${mm(cx - tick * 0.6)}" y="${mm(cy + radius * 0.84)}" font-size="${mm(codeMm)}" text-anchor="middle">${escape(code)}</text>`,
        `<rect x="${mm(cx + codeMm * 0.75)}" y="${mm(cy + radius * 0.84 - tick)}" width="${mm(tick)}" height="${mm(tick)}" fill="#fff" stroke="#000" stroke-width=".2"/>`,
      );
    }
  }
  for (let row = 1; row <= grid.rows; row++) {
    for (let column = 1; column <= grid.columns; column++) {
      if (present.has(`${row}:${column}`)) continue;
      const centre = holeCentre(grid, row, column);
      parts.push(
        `<circle cx="${mm(x(centre.xMm))}" cy="${mm(y(centre.yMm))}" r="${mm(radius * 0.35)}" fill="none" stroke="#666" stroke-width=".2" stroke-dasharray=".4 .6"/>`,
      );
    }
  }

  const word = ptToMm(10);
  const wordY = top + drawnDepth + 9.4;
  const leftX = left - 9;
  const middleY = top + drawnDepth / 2;
  parts.push(
    `<text x="${mm(left + drawnWidth / 2)}" y="${mm(wordY)}" font-size="${mm(word)}" font-weight="700" text-anchor="middle" letter-spacing=".6">▼ FRONT – stand here</text>`,
    `<text transform="translate(${mm(leftX)} ${mm(middleY)}) rotate(-90)" font-size="${mm(word)}" font-weight="700" text-anchor="middle" letter-spacing=".6">LEFT</text>`,
    `<text x="${mm(left + drawnWidth)}" y="${mm(wordY)}" font-size="${mm(ptToMm(8))}" text-anchor="end">drawn 1 : ${mm(Math.round(10 / scale) / 10)}</text>`,
  );
  const height = top + drawnDepth + RIM_MM.bottom;
  return {
    html: `<svg width="${mm(box.width)}mm" height="${mm(height)}mm" viewBox="0 0 ${mm(box.width)} ${mm(height)}" role="img" aria-label="Planting chart"><defs>${patternDefs(box.id)}</defs>${parts.join('')}</svg>`,
  };
}

/** Letter, pattern and levels of every treatment, and what the other marks mean. */
function keyHtml(plan: Plan, id: string, columns: number): string {
  const items = treatmentsOfPlan(plan).map(
    (treatment, index) =>
      `<div class="key-item"><svg width="6mm" height="6mm" viewBox="0 0 6 6"><defs>${patternDefs(`${id}${index}`)}</defs>${treatmentMark(`${id}${index}`, index, treatment.letter, { x: 3, y: 3, radius: 2.8, letterMm: 2.9 })}</svg><span>${escape(treatment.name)}</span></div>`,
  );
  items.push(
    '<div class="key-item"><svg width="6mm" height="6mm" viewBox="0 0 6 6"><rect x="1.6" y="1.6" width="2.8" height="2.8" fill="#fff" stroke="#000" stroke-width=".2"/></svg><span>tick when planted</span></div>',
  );
  return `<style>.key{display:grid;grid-template-columns:repeat(${columns},1fr);gap:.6mm 4mm;padding-top:2mm}.key-item{display:flex;align-items:center;gap:2mm;min-height:6mm;font-size:9pt;line-height:1.1}.key-item svg{flex:none}</style><div class="key">${items.join('')}</div>`;
}
