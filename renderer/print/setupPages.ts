import type { Plan } from '../../shared-types/plan';
import { setupListOf } from '../derive';
import type { SetupLine } from '../engine/treated';
import type { Page } from './document';
import { bodyMm, type Frame } from './frame';
import { html, type Fragment } from './html';
import type { PrintOptions } from './options';
import type { Sheet } from './paper';
import { BOLD, svgDrawing, svgText } from './svg';
import { mm, ptToMm, wrapText } from './text';

const TYPE_MM = ptToMm(10);
const LINE_MM = 4.4;
/** Room above the first row, and of the title of a part. */
const HEAD_MM = 14;
const PART_MM = 11;

const COLUMNS = { place: 8, levels: 48, what: 88 } as const;

interface Row {
  height: number;
  draw: (top: number, width: number) => Fragment;
}

/** Whether a layout gives anything to hang, fill or mix. */
export function hasSetup(plan: Plan): boolean {
  const found = setupListOf(plan);
  return found !== null && Object.values(found).some((lines: SetupLine[]) => lines.length > 0);
}

/**
 * What to hang, fill and mix before planting, with a box to tick. It tells which level is where: in a
 * blinded set it is marked as sealed, for the person who sets up the rack alone.
 */
export function setupPages(plan: Plan, frame: Frame, { paper, blinded }: PrintOptions): Page[] {
  const found = setupListOf(plan);
  if (!found || !hasSetup(plan)) return [];
  const sheet: Sheet = { paper, wide: false };
  const room = bodyMm(frame, sheet);
  const parts: [string, string, SetupLine[]][] = [
    ['Lamps and timers', 'Hang and set', found.lamps],
    ['Reservoirs', 'Fill and set', found.water],
    ['Media', 'Mix', found.media],
    ['Pots', 'Set out', found.pots],
  ];
  const rows = parts.flatMap(([title, act, lines]) =>
    lines.length > 0
      ? [
          partRow(
            title,
            act,
            lines.some(({ levels }) => levels !== ''),
          ),
          ...lines.map((line) => lineRow(line, room.width)),
        ]
      : [],
  );
  const pages: Row[][] = [];
  let used = Infinity;
  rows.forEach((row, i) => {
    // A title stays with its first line.
    const needs = row.height + (row.height === PART_MM ? (rows[i + 1]?.height ?? 0) : 0);
    if (used + needs > room.height) {
      pages.push([]);
      used = HEAD_MM;
    }
    pages.at(-1)?.push(row);
    used += row.height;
  });
  const heading = blinded ? 'Sealed: hanging and filling list' : 'Hanging and filling list';
  const note = blinded
    ? 'For the person who sets up lamps and water, and for nobody who plants, weighs or judges.'
    : 'Set the rack up like this before planting, and tick what is done.';
  return pages.map((page) => {
    let y = HEAD_MM;
    const drawn = page.map((row) => {
      const part = row.draw(y, room.width);
      y += row.height;
      return part;
    });
    return {
      sheet,
      heading,
      body: () =>
        svgDrawing({ width: room.width, height: y + 1 }, heading, [
          wrapText(note, TYPE_MM, room.width).map((text, i) =>
            svgText(0, 5 + i * LINE_MM, TYPE_MM, text),
          ),
          drawn,
        ]),
    };
  });
}

function partRow(title: string, act: string, levels: boolean): Row {
  return {
    height: PART_MM,
    draw: (top, width) => [
      svgText(0, top + 7.5, ptToMm(11), title, BOLD),
      levels ? svgText(COLUMNS.levels, top + 7.5, TYPE_MM, 'Level', BOLD) : null,
      svgText(COLUMNS.what, top + 7.5, TYPE_MM, act, BOLD),
      html`<path d="M0,${mm(top + 9.5)}H${mm(width)}" stroke="#000" stroke-width=".4"/>`,
    ],
  };
}

function lineRow(line: SetupLine, width: number): Row {
  const place = wrapText(line.place, TYPE_MM, COLUMNS.levels - COLUMNS.place - 3);
  const levels = wrapText(line.levels, TYPE_MM, COLUMNS.what - COLUMNS.levels - 3);
  const what = wrapText(line.what, TYPE_MM, width - COLUMNS.what);
  const height = Math.max(place.length, levels.length, what.length) * LINE_MM + 4;
  return {
    height,
    draw: (top) => {
      const column = (lines: readonly string[], x: number, style?: typeof BOLD) =>
        lines.map((text, i) => svgText(x, top + 5.2 + i * LINE_MM, TYPE_MM, text, style));
      return [
        html`<rect x=".5" y="${mm(top + 1.9)}" width="4" height="4" fill="none" stroke="#000" stroke-width=".3"/>`,
        column(place, COLUMNS.place, BOLD),
        column(levels, COLUMNS.levels),
        column(what, COLUMNS.what),
        html`<path d="M0,${mm(top + height)}H${mm(width)}" stroke="#888" stroke-width=".15"/>`,
      ];
    },
  };
}
