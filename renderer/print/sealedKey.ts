import type { Plan } from '../../shared-types/plan';
import { treatmentsOfPlan } from '../derive';
import type { Page } from './document';
import { bodyMm, type Frame } from './frame';
import { html, type Fragment } from './html';
import type { Paper, Sheet } from './paper';
import { shownTreatments } from './shown';
import { BOLD, svgDrawing, svgText } from './svg';
import { mm, ptToMm, wrapText } from './text';
import { treatmentMark } from './treatmentMark';

const TYPE_MM = ptToMm(10);
const LINE_MM = 4.4;
const HEAD_MM = 40;

/** What the codes of blinded pages mean, for a sealed envelope; [] where there is nothing to hide. */
export function sealedKeyPages(plan: Plan, frame: Frame, paper: Paper): Page[] {
  const plain = treatmentsOfPlan(plan);
  if (plain.length === 0 || !plan.layout) return [];
  const sheet: Sheet = { paper, wide: false };
  const room = bodyMm(frame, sheet);
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
      const first = middle - ((lines.length - 1) * LINE_MM) / 2 + TYPE_MM * 0.36;
      return [
        treatmentMark(coded, { x: 6, y: middle, radius: 4.6 }),
        svgText(16, middle + ptToMm(14) * 0.36, ptToMm(14), coded.mark, BOLD),
        svgText(30, middle + ptToMm(12) * 0.36, ptToMm(12), treatment.letter, BOLD),
        lines.map((line, i) => svgText(44, first + i * LINE_MM, TYPE_MM, line)),
        html`<path d="M0,${mm(y)}H${mm(room.width)}" stroke="#888" stroke-width=".15"/>`,
      ];
    });
    return {
      sheet,
      heading: 'Sealed key to the blinded pages',
      body: () =>
        svgDrawing({ width: room.width, height: y + 1 }, 'Sealed key', [head(room.width), parts]),
    };
  });
}

function head(width: number): Fragment {
  const words = wrapText(
    'Keep in a sealed envelope, away from the rack. Open when the last record is in, or when a plant is in danger, and write down who opened it and why.',
    TYPE_MM,
    width,
  );
  return [
    words.map((text, i) => svgText(0, 5 + i * LINE_MM, TYPE_MM, text)),
    svgText(0, 24, TYPE_MM, 'Opened on'),
    html`<path d="M20,24.6H62M78,24.6H120M135,24.6H${mm(width)}" stroke="#000" stroke-width=".2"/>`,
    svgText(66, 24, TYPE_MM, 'by'),
    svgText(124, 24, TYPE_MM, 'why'),
    svgText(0, 37, TYPE_MM, 'Code', BOLD),
    svgText(26, 37, TYPE_MM, 'Letter', BOLD),
    svgText(44, 37, TYPE_MM, 'Treatment', BOLD),
    html`<path d="M0,39H${mm(width)}" stroke="#000" stroke-width=".4"/>`,
  ];
}
