import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import { findTray, trayCode, type Pot } from '../../engine/geometry';
import type { Page } from '../document';
import { bodyMm, type Frame } from '../frame';
import { html, type Fragment } from '../html';
import type { PrintOptions } from '../options';
import { trialPots } from '../shown';
import { svgDrawing, svgText } from '../svg';
import { fitEnd, fitText, textWidthMm, wrapText } from '../text';
import { CODE_MM, HEAD_LINE_MM, listSvg, ROW_MM, TEXT_MM, type SheetRow } from './list';
import {
  columnMm,
  HALVES_GAP_MM,
  roundParts,
  roundsOf,
  columnsMm,
  type Column,
  type RoundPart,
} from './rounds';
import { logLines, logOf } from './sheetLog';
import { fixed } from '../../words';

const TOP_MM = 9;

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
  return roundsOf(plan, options.previous, options.measurementIds).flatMap((round) =>
    roundParts(frame, options, round, codeMm + plantMm).flatMap((part) =>
      [...byTray.values()].flatMap((trayPots) => {
        const found = findTray(plan.rack, trayPots[0]?.trayId ?? '');
        const tray = found ? trayCode(found.shelf.number, found.tray.letter) : '';
        const rows = trayPots.map((pot, i): SheetRow => ({
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

function valueOf(plan: Plan, measurement: Measurement | null, pot: Pot): string {
  if (!measurement) return '';
  const mark = plan.records.marks[pot.id]?.mark;
  const value = plan.records.values[measurement.id]?.[pot.id];
  if (value === undefined) return mark ?? '';
  return fixed(value, measurement.decimals);
}

interface TraySheet extends RoundPart {
  log: readonly string[];
  rows: SheetRow[];
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
  const spare = listMm - columnsMm(given.columns, given.codeMm + given.plantMm);
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
      listSvg({ ...given, heads }, list, {
        x: i * (listMm + HALVES_GAP_MM),
        listMm,
        extraMm,
        topMm,
        headMm,
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
