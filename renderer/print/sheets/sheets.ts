import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { findTray, trayCode, type Pot } from '../../engine/geometry';
import type { Page } from '../document';
import { bodyMm, type Frame } from '../frame';
import { html, type Fragment } from '../html';
import type { PrintOptions } from '../options';
import { trialPots } from '../shown';
import { BOLD, svgDrawing, svgText } from '../svg';
import { fitEnd, fitText, ptToMm, textWidthMm, wrapText } from '../text';
import { flowed } from './flow';
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
/** The name of a tray over its list. */
const TRAY_MM = 6;
const TRAY_TYPE_MM = ptToMm(11);

/**
 * Recording sheets: for every round of measuring a line a pot in walking order, with room to write;
 * tray after tray, so that sheets are full.
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
    roundParts(frame, options, round, codeMm + plantMm).flatMap((part) => {
      const trays = [...byTray.values()].map((trayPots): TrayList => {
        const found = findTray(plan.rack, trayPots[0]?.trayId ?? '');
        return {
          code: found ? trayCode(found.shelf.number, found.tray.letter) : '',
          rows: trayPots.map((pot, i): SheetRow => ({
            code: pot.code,
            plant: fitEnd(plants.get(pot.id) ?? '', TEXT_MM, plantMm - 2),
            previous: part.columns.map(({ previous }) => valueOf(plan, previous, pot)),
            first: i === 0 || trayPots[i - 1]?.row !== pot.row,
          })),
          // What was done to a tray could tell its treatment.
          log: options.blinded ? [] : logOf(plan, trayPots),
        };
      });
      return partPages(frame, { ...part, trays, codeMm, plantMm });
    }),
  );
}

function valueOf(plan: Plan, measurement: Measurement | null, pot: Pot): string {
  if (!measurement) return '';
  const mark = plan.records.marks[pot.id]?.mark;
  const value = plan.records.values[measurement.id]?.[pot.id];
  if (value === undefined) return mark ?? '';
  return fixed(value, measurement.decimals);
}

interface TrayList {
  code: string;
  rows: SheetRow[];
  log: readonly string[];
}

interface PartSheet extends RoundPart {
  trays: readonly TrayList[];
  codeMm: number;
  plantMm: number;
}

/** Lists beside each other where one does not hold all, and how wide their cells are. */
function listsOf(frame: Frame, given: PartSheet) {
  const room = bodyMm(frame, given.sheet);
  const heightMm = room.height - TOP_MM - 1;
  const across = (columns: number) => {
    const listMm = (room.width - (columns - 1) * HALVES_GAP_MM) / columns;
    // What is left over goes to the cells to be written in.
    const spare = listMm - columnsMm(given.columns, given.codeMm + given.plantMm);
    const extraMm = Math.min(24, spare / (given.columns.length + 1));
    const heads = given.columns.map((column) => headLines(column, columnMm(column) + extraMm));
    const headMm = Math.max(2, ...heads.map((lines) => lines.length)) * HEAD_LINE_MM + 1.5;
    const trays = given.trays.map((tray) => {
      const log = logLines(tray.log, TEXT_MM, listMm);
      const aboveMm = TRAY_MM + log.length * HEAD_LINE_MM;
      const breaks = tray.rows.flatMap(({ first }, i) => (first && i > 0 ? [i] : []));
      return {
        ...tray,
        log,
        aboveMm,
        flow: {
          rows: tray.rows.length,
          breaks,
          headMm: aboveMm + headMm,
          againMm: TRAY_MM + headMm,
        },
      };
    });
    const pages = flowed(
      trays.map(({ flow }) => flow),
      { columns, columnMm: heightMm, rowMm: ROW_MM },
    );
    return { width: room.width, listMm, extraMm, heads, headMm, trays, pages, columns };
  };
  const one = across(1);
  // What fills one list has the whole width.
  return one.pages.length === 1 ? one : across(given.halves);
}

function partPages(frame: Frame, given: PartSheet): Page[] {
  const lists = listsOf(frame, given);
  const { width, listMm, trays, headMm } = lists;
  return lists.pages.map((page) => {
    const ends = page.map(
      ({ tray, from, to, topMm }) =>
        topMm + aboveOf(trays[tray], from) + headMm + (to - from) * ROW_MM,
    );
    const body = page.map(({ tray: t, from, to, column, topMm }) => {
      const tray = trays[t];
      if (!tray) throw new TypeError('a list is of one of the trays');
      const [x, top] = [column * (listMm + HALVES_GAP_MM), TOP_MM + topMm];
      const named = `Tray ${tray.code}${from > 0 ? ', continued' : ''}`;
      return [
        svgText(x, top + 4.6, TRAY_TYPE_MM, named, BOLD),
        (from === 0 ? tray.log : []).map((line, i) =>
          svgText(x, top + TRAY_MM + (i + 0.6) * HEAD_LINE_MM, TEXT_MM, line),
        ),
        listSvg({ ...given, heads: lists.heads }, tray.rows.slice(from, to), {
          x,
          listMm,
          extraMm: lists.extraMm,
          topMm: top + aboveOf(tray, from),
          headMm,
        }),
      ];
    });
    const codes = [...new Set(page.map(({ tray }) => trays[tray]?.code ?? ''))];
    return {
      sheet: given.sheet,
      heading: `Recording sheet, ${given.words}, ${traysInWords(codes)}`,
      body: () =>
        svgDrawing({ width, height: TOP_MM + Math.max(...ends) + 1 }, 'Recording sheet', [
          topSvg(width),
          body,
        ]),
    };
  });
}

/** Height over a list of its tray's name, and of the log where the list begins, mm. */
const aboveOf = (tray: { aboveMm: number } | undefined, from: number): number =>
  from === 0 ? (tray?.aboveMm ?? 0) : TRAY_MM;

/** `tray 1A`, `trays 1A, 1B`; of many the first and the last. */
function traysInWords(codes: readonly string[]): string {
  const [first = '', ...rest] = codes;
  if (rest.length === 0) return `tray ${first}`;
  return rest.length > 3 ? `trays ${first} to ${rest.at(-1) ?? ''}` : `trays ${codes.join(', ')}`;
}

function topSvg(width: number): Fragment {
  return [
    svgText(0, 5, TEXT_MM, 'Date'),
    svgText(48, 5, TEXT_MM, 'Recorded by'),
    html`<path d="M9,5.4H44M69,5.4H120" stroke="#000" stroke-width=".2"/>`,
    width > 150 && svgText(125, 5, TEXT_MM, 'Rows run to and fro, as listed.'),
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
