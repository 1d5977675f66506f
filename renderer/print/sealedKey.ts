import type { Plan } from '../../shared-types/plan';
import { treatmentsOfPlan } from '../derive';
import type { Page } from './document';
import { bodyMm, frameOf } from './frame';
import type { Paper, Sheet } from './paper';
import { shownTreatments } from './shown';
import { escape, mm, ptToMm, wrapText } from './text';
import { treatmentMark } from './treatmentMark';

const TYPE_MM = ptToMm(10);
const LINE_MM = 4.4;
const HEAD_MM = 40;

/** What the codes of blinded pages mean, for a sealed envelope; [] where there is nothing to hide. */
export function sealedKeyPages(plan: Plan, paper: Paper): Page[] {
  const plain = treatmentsOfPlan(plan);
  if (plain.length === 0 || !plan.layout) return [];
  const sheet: Sheet = { paper, wide: false };
  const room = bodyMm(frameOf(plan), sheet);
  const { byIndex } = shownTreatments(plan, true);
  const rows = plain
    .map((treatment, i) => ({ treatment, coded: byIndex[i] ?? { mark: '', look: i, name: '' } }))
    .sort((a, b) => (a.coded.mark < b.coded.mark ? -1 : 1))
    .map(({ treatment, coded }) => {
      const lines = wrapText(treatment.name, TYPE_MM, room.width - 46);
      return { treatment, coded, lines, height: Math.max(11, lines.length * LINE_MM + 3) };
    });
  const pages: (typeof rows)[] = [];
  let used = Infinity;
  for (const row of rows) {
    if (used + row.height > room.height) {
      pages.push([]);
      used = HEAD_MM;
    }
    pages.at(-1)?.push(row);
    used += row.height;
  }
  return pages.map((page) => {
    let y = HEAD_MM;
    const parts = page.map(({ treatment, coded, lines, height }) => {
      const middle = y + height / 2;
      y += height;
      return (
        treatmentMark(coded, { x: 6, y: middle, radius: 4.6 }) +
        `<text x="16" y="${mm(middle + ptToMm(14) * 0.36)}" font-size="${mm(ptToMm(14))}" font-weight="700">${escape(coded.mark)}</text>` +
        `<text x="30" y="${mm(middle + ptToMm(12) * 0.36)}" font-size="${mm(ptToMm(12))}" font-weight="700">${escape(treatment.letter)}</text>` +
        lines
          .map(
            (line, i) =>
              `<text x="44" y="${mm(middle - ((lines.length - 1) * LINE_MM) / 2 + i * LINE_MM + TYPE_MM * 0.36)}" font-size="${mm(TYPE_MM)}">${escape(line)}</text>`,
          )
          .join('') +
        `<path d="M0,${mm(y)}H${mm(room.width)}" stroke="#888" stroke-width=".15"/>`
      );
    });
    return {
      sheet,
      heading: 'Sealed key to the blinded pages',
      body: () =>
        `<svg width="${mm(room.width)}mm" height="${mm(y + 1)}mm" viewBox="0 0 ${mm(room.width)} ${mm(y + 1)}" role="img" aria-label="Sealed key">${head(room.width)}${parts.join('')}</svg>`,
    };
  });
}

function head(width: number): string {
  const words = wrapText(
    'Keep in a sealed envelope, away from the rack. Open when the last record is in, or when a plant is in danger, and write down who opened it and why.',
    TYPE_MM,
    width,
  );
  const line = (x: number, y: number, text: string, weight = 400) =>
    `<text x="${x}" y="${mm(y)}" font-size="${mm(TYPE_MM)}" font-weight="${weight}">${escape(text)}</text>`;
  return (
    words.map((text, i) => line(0, 5 + i * LINE_MM, text)).join('') +
    line(0, 24, 'Opened on') +
    `<path d="M20,24.6H62M78,24.6H120M135,24.6H${mm(width)}" stroke="#000" stroke-width=".2"/>` +
    line(66, 24, 'by') +
    line(124, 24, 'why') +
    line(0, 37, 'Code', 700) +
    line(26, 37, 'Letter', 700) +
    line(44, 37, 'Treatment', 700) +
    `<path d="M0,39H${mm(width)}" stroke="#000" stroke-width=".4"/>`
  );
}
