import type { Plan } from '../../shared-types/plan';
import type { Measurement } from '../../shared-types/trial';
import { measurementsInOrder } from '../document';
import { quantityOf } from '../engine/findings';
import { findTray, trayCode, type Pot } from '../engine/geometry';
import type { Page } from './document';
import { bodyMm, type Frame } from './frame';
import { html, type Fragment, type Html } from './html';
import type { PrintOptions } from './options';
import type { Sheet } from './paper';
import { logLines, logOf } from './sheetLog';
import { trialPots } from './shown';
import { BOLD, svgDrawing, svgText } from './svg';
import { fitEnd, fitText, mm, ptToMm, textWidthMm, wrapText } from './text';
import { fixed } from '../words';

const ROW_MM = 7.4;
const TOP_MM = 9;
const CODE_MM = ptToMm(12);
const TEXT_MM = ptToMm(9);
const HEAD_LINE_MM = 3.7;
/** Room to write one figure by hand, and a previous figure beside it. */
const CELL_MM = 19;
const PREVIOUS_MM = 13;
const NOTE_MM = 26;
const HALVES_GAP_MM = 7;

interface Column {
  measurement: Measurement;
  /** Of the same thing, taken before; null: none, or not wished. */
  previous: Measurement | null;
}

interface Round {
  words: string;
  columns: Column[];
}

interface Row {
  code: string;
  plant: string;
  previous: string[];
  /** Begins a row of the tray: a stronger line above. */
  first: boolean;
}

/**
 * Recording sheets: for every round of measuring and every tray a line a pot in walking order, with
 * room to write.
 */
export function sheetPages(plan: Plan, frame: Frame, options: PrintOptions): Page[] {
  const pots = trialPots(plan, options);
  const plants = new Map(plan.layout?.assignments.map((a) => [a.potId, a.plant]));
  const withPlants = pots.some((pot) => plants.get(pot.id));
  const byTray = new Map<string, Pot[]>();
  for (const pot of pots) byTray.set(pot.trayId, [...(byTray.get(pot.trayId) ?? []), pot]);
  const codeMm = Math.max(16, ...pots.map((pot) => textWidthMm(pot.code, CODE_MM, true) + 2));
  const plantMm = withPlants
    ? Math.min(
        40,
        Math.max(14, ...pots.map((pot) => textWidthMm(plants.get(pot.id) ?? '', TEXT_MM) + 3)),
      )
    : 0;
  return roundsOf(plan, options.previous).flatMap((round) =>
    partsOf(frame, options, round, codeMm + plantMm).flatMap((part) =>
      [...byTray.values()].flatMap((trayPots) => {
        const found = findTray(plan.rack, trayPots[0]?.trayId ?? '');
        const tray = found ? trayCode(found.shelf.number, found.tray.letter) : '';
        const rows = trayPots.map((pot, i): Row => ({
          code: pot.code,
          plant: fitEnd(plants.get(pot.id) ?? '', TEXT_MM, plantMm - 2),
          previous: part.columns.map(({ previous }) => valueOf(plan, previous, pot)),
          first: i === 0 || trayPots[i - 1]?.row !== pot.row,
        }));
        const heading = `Recording sheet, ${part.words}, tray ${tray}`;
        // What was done to a tray could tell its treatment.
        const log = options.blinded ? [] : logOf(plan, trayPots);
        return trayPages(frame, { ...part, rows, heading, codeMm, plantMm, log });
      }),
    ),
  );
}

const MOMENT_WORDS = { start: 'start', interim: 'in between', harvest: 'harvest' } as const;

/** Measurements that are taken together: of one timepoint and one date. */
function roundsOf(plan: Plan, withPrevious: boolean): Round[] {
  const measurements = measurementsInOrder(plan);
  const rounds = new Map<string, Round>();
  measurements.forEach((measurement, i) => {
    const date = measurement.date === null ? '' : ` ${measurement.date}`;
    const words = `${MOMENT_WORDS[measurement.timepoint]}${date}`;
    const round = rounds.get(words) ?? { words, columns: [] };
    const previous = measurements
      .slice(0, i)
      .filter(
        (before) =>
          quantityOf(before) === quantityOf(measurement) &&
          before.kind === measurement.kind &&
          before.unit === measurement.unit &&
          Object.keys(plan.records.values[before.id] ?? {}).length > 0 &&
          (before.timepoint !== measurement.timepoint || before.date !== measurement.date),
      )
      .at(-1);
    round.columns.push({ measurement, previous: withPrevious ? (previous ?? null) : null });
    rounds.set(words, round);
  });
  return [...rounds.values()];
}

interface Part extends Round {
  sheet: Sheet;
  /** Lists side by side on a page. */
  halves: number;
}

function columnMm(column: Column): number {
  return CELL_MM + (column.previous ? PREVIOUS_MM : 0);
}

function widthOf(columns: readonly Column[], fixedMm: number): number {
  return columns.reduce((sum, column) => sum + columnMm(column), fixedMm + NOTE_MM);
}

/** Lays the paper so that a round fits, and breaks a round that is too wide even so. */
function partsOf(frame: Frame, options: PrintOptions, round: Round, fixedMm: number): Part[] {
  const tall: Sheet = { paper: options.paper, wide: false };
  const wide: Sheet = { paper: options.paper, wide: true };
  const [tallMm, wideMm] = [bodyMm(frame, tall).width, bodyMm(frame, wide).width];
  const needed = widthOf(round.columns, fixedMm);
  if (2 * needed + HALVES_GAP_MM <= tallMm) return [{ ...round, sheet: tall, halves: 2 }];
  if (needed <= tallMm) return [{ ...round, sheet: tall, halves: 1 }];
  if (needed <= wideMm) return [{ ...round, sheet: wide, halves: 1 }];
  const parts: Column[][] = [[]];
  for (const column of round.columns) {
    const last = parts.at(-1);
    if (last && last.length > 0 && widthOf([...last, column], fixedMm) > wideMm) parts.push([]);
    parts.at(-1)?.push(column);
  }
  return parts.map((columns, i) => ({
    words: `${round.words}, part ${i + 1} of ${parts.length}`,
    columns,
    sheet: wide,
    halves: 1,
  }));
}

function valueOf(plan: Plan, measurement: Measurement | null, pot: Pot): string {
  if (!measurement) return '';
  const mark = plan.records.marks[pot.id]?.mark;
  const value = plan.records.values[measurement.id]?.[pot.id];
  if (value === undefined) return mark ?? '';
  return fixed(value, measurement.decimals);
}

interface TraySheet extends Part {
  log: readonly string[];
  rows: Row[];
  heading: string;
  codeMm: number;
  plantMm: number;
}

function trayPages(frame: Frame, given: TraySheet): Page[] {
  const room = bodyMm(frame, given.sheet);
  const { rows } = given;
  const log = logLines(given.log, TEXT_MM, room.width);
  const topMm = TOP_MM + log.length * HEAD_LINE_MM;
  // A tray that fills one list has the whole width.
  const most = Math.floor((room.height - topMm - 6 * HEAD_LINE_MM) / ROW_MM);
  const halves = rows.length <= most ? 1 : given.halves;
  const listMm = (room.width - (halves - 1) * HALVES_GAP_MM) / halves;
  // What is left over goes to the cells to be written in.
  const spare = listMm - widthOf(given.columns, given.codeMm + given.plantMm);
  const extraMm = Math.min(24, spare / (given.columns.length + 1));
  const heads = given.columns.map((column) => headLines(column, columnMm(column) + extraMm));
  const headMm = Math.max(2, ...heads.map((lines) => lines.length)) * HEAD_LINE_MM + 1.5;
  const perList = Math.floor((room.height - topMm - headMm) / ROW_MM);
  const perPage = perList * halves;
  const pages: Page[] = [];
  for (let from = 0; from < rows.length; from += perPage) {
    const lists = Array.from({ length: halves }, (_, i) =>
      rows.slice(from + i * perList, Math.min(from + perPage, from + (i + 1) * perList)),
    ).filter((list) => list.length > 0);
    const longest = Math.max(...lists.map((list) => list.length));
    const height = topMm + headMm + longest * ROW_MM + 1;
    const body = lists.map((list, i) =>
      listSvg(given, list, {
        x: i * (listMm + HALVES_GAP_MM),
        listMm,
        extraMm,
        topMm,
        headMm,
        heads,
      }),
    );
    pages.push({
      sheet: given.sheet,
      heading: given.heading,
      body: () =>
        svgDrawing({ width: room.width, height }, 'Recording sheet', [
          topSvg(room.width, log),
          body,
        ]),
    });
  }
  return pages;
}

function topSvg(width: number, log: readonly string[]): Fragment {
  return [
    svgText(0, 5, TEXT_MM, 'Date'),
    svgText(48, 5, TEXT_MM, 'Recorded by'),
    html`<path d="M9,5.4H44M69,5.4H120" stroke="#000" stroke-width=".2"/>`,
    width > 150 && svgText(125, 5, TEXT_MM, 'Rows run to and fro, as listed.'),
    log.map((line, i) => svgText(0, TOP_MM + (i + 0.6) * HEAD_LINE_MM, TEXT_MM, line)),
  ];
}

/** Name and unit over a column, in lines; the unit is never cut. */
function headLines({ measurement, previous }: Column, width: number): string[] {
  const name = wrapText(measurement.name, TEXT_MM, width - 1.5, 3, true);
  const same = measurement.unit.toLowerCase() === measurement.name.toLowerCase();
  const unit =
    measurement.unit && !same ? [fitText(`in ${measurement.unit}`, TEXT_MM, width - 1.5)] : [];
  const grey = previous ? wrapText(`grey: ${previous.timepoint}`, TEXT_MM, width - 1.5, 1) : [];
  return [...name, ...unit, ...grey];
}

function listSvg(
  { columns, codeMm, plantMm }: TraySheet,
  rows: readonly Row[],
  at: {
    x: number;
    listMm: number;
    extraMm: number;
    topMm: number;
    headMm: number;
    heads: string[][];
  },
): Fragment {
  const parts: Fragment[] = [];
  const bottom = at.topMm + at.headMm;
  const text = (x: number, y: number, size: number, words: string, more?: Html) =>
    words === '' ? null : svgText(at.x + x, y, size, words, more);
  const headAt = (x: number, lines: readonly string[]) =>
    lines.map((line, i) =>
      text(
        x,
        bottom - 1.4 - (lines.length - 1 - i) * HEAD_LINE_MM,
        TEXT_MM,
        line,
        i === 0 ? BOLD : undefined,
      ),
    );
  parts.push(headAt(0, ['Pot']), plantMm > 0 && headAt(codeMm, ['Plant']));
  const starts: number[] = [];
  let x = codeMm + plantMm;
  columns.forEach((column, c) => {
    starts.push(x);
    parts.push(headAt(x + 1, at.heads[c] ?? []));
    x += columnMm(column) + at.extraMm;
  });
  const noteX = x;
  parts.push(headAt(noteX + 1, ['Note, mark']));
  rows.forEach((row, r) => {
    const y = bottom + r * ROW_MM;
    const line = y + ROW_MM / 2;
    parts.push(
      html`<path d="M${mm(at.x)},${mm(y)}h${mm(at.listMm)}" stroke="#000" stroke-width="${row.first ? '.5' : '.15'}"/>`,
      text(0, line + CODE_MM * 0.36, CODE_MM, row.code, BOLD),
      text(codeMm, line + TEXT_MM * 0.36, TEXT_MM, row.plant),
    );
    row.previous.forEach((value, c) => {
      parts.push(
        text((starts[c] ?? 0) + 1, line + TEXT_MM * 0.36, TEXT_MM, value, html`fill="#6b6b6b"`),
      );
    });
  });
  const end = bottom + rows.length * ROW_MM;
  for (const at_ of [...starts, noteX, at.listMm]) {
    parts.push(
      html`<path d="M${mm(at.x + at_ - 0.1)},${mm(bottom)}V${mm(end)}" stroke="#000" stroke-width=".2"/>`,
    );
  }
  parts.push(
    html`<path d="M${mm(at.x)},${mm(end)}h${mm(at.listMm)}" stroke="#000" stroke-width=".5"/>`,
  );
  return parts;
}
