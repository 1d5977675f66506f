import { dateSchema } from '../../../shared-types/basics';
import type { LightReading } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import { codeBook } from '../../document/records';
import { canopyHeightMm, canopyOver } from '../../engine/geometry';
import {
  ppfdAtPoints,
  readingPpfd,
  slipNotices,
  withheldNotice,
  type ReadingsFound,
  type CheckedReading,
} from '../../engine/light';
import { potLightOf } from './potLight';
import { readNumber, type TextTable } from '../../tables';
import { planAsGrown } from '../treated';
import { ownFrom, rounded, say, unlessRefused } from '../../words';

export class RowReader {
  constructor(
    private readonly table: TextTable,
    private readonly row: TextTable['rows'][number],
    private readonly problems: string[],
    private readonly lengths: Plan['display']['lengths'],
  ) {}

  cell(column: number): string {
    return this.row.cells[column] ?? '';
  }

  refuse(column: number, expected: string): null {
    const name = this.table.columns[column] ?? '';
    const found = this.cell(column).trim() || 'nothing';
    this.problems.push(`Line ${this.row.line}, ${name}: found ${found}; ${expected} is expected.`);
    return null;
  }

  number(column: number, expected: string, lowest: number, highest: number): number | null {
    const value = readNumber(this.cell(column), this.table.decimal);
    if (value === null || value < lowest || value > highest) return this.refuse(column, expected);
    return value;
  }

  /** A length in mm; undefined: refused. */
  length(column: number, what: string, highestMm: number): number | undefined {
    const own = /(mm|in)\)?$/i.exec(this.table.columns[column] ?? '')?.[1]?.toLowerCase();
    const stated = own === 'in' ? 'imperial' : own === 'mm' ? 'metric' : this.lengths;
    const mm = ownFrom('length', stated, 1);
    const expected = `${what} from 0 to ${say('length', stated, highestMm)}`;
    const shown = this.number(column, expected, 0, highestMm / mm);
    return shown === null ? undefined : rounded(shown * mm, 3);
  }

  /** undefined: refused. */
  date(column: number): string | undefined {
    const read = dateSchema.safeParse(this.cell(column).trim());
    if (read.success) return read.data;
    this.refuse(column, 'a date such as 2026-03-02');
    return undefined;
  }
}

export interface SensorPlace {
  shelfId: string;
  xMm: number;
  yMm: number;
  zMm: number;
}

/** A reading with what the calibration makes of it; null where its shelf has none. */
export interface ReadingRow {
  reading: LightReading;
  shelfNumber: number;
  /** µmol m⁻² s⁻¹; null where it cannot be told. */
  measuredUmol: number | null;
  checked: CheckedReading | null;
  /** Taken of other lamps or surfaces than are there now. */
  outdated: boolean;
}

/** Ids of readings of lamps or surfaces that have been changed since, in the order of entry. */
export function outdatedReadingsOf(plan: Plan): string[] {
  const { outdated } = potLightOf(plan);
  return plan.light.readings.map(({ id }) => id).filter((id) => outdated.has(id));
}

/** Ids of readings that an earlier run had, and that are carried over into this one. */
export function earlierRunReadingsOf(plan: Plan): string[] {
  return plan.light.readings.flatMap(({ id, takenIn }) => (takenIn === undefined ? [] : [id]));
}

/**
 * PPFD by the lamps' figures where readings are taken now, in the order asked; undefined where it cannot be
 * computed. Kept with a reading, it says something of the lamps after they are changed.
 */
export function estimatesAt(plan: Plan, places: readonly SensorPlace[]): (number | undefined)[] {
  const { rack } = plan.layout?.plantedAt ? planAsGrown(plan) : plan;
  return places.map(({ shelfId, ...point }) => {
    const shelf = rack.shelves.find(({ id }) => id === shelfId);
    if (!shelf) return undefined;
    const heightMm = canopyHeightMm(shelf, plan.light.canopyAt);
    const found = unlessRefused(() => ppfdAtPoints(shelf, rack.lampKinds, [point], { heightMm }));
    const ppfd = found?.[0];
    return ppfd !== undefined && ppfd > 0 ? rounded(ppfd, 4) : undefined;
  });
}

/** Readings to be added, each with the estimate of now. */
export function withEstimates<T extends SensorPlace>(
  plan: Plan,
  readings: readonly T[],
): (T & Pick<LightReading, 'estimateUmol'>)[] {
  const estimates = estimatesAt(plan, readings);
  return readings.map((reading, i) => {
    const estimateUmol = estimates[i];
    return estimateUmol === undefined ? reading : { ...reading, estimateUmol };
  });
}

/** All readings in the order they were entered. */
export function readingRowsOf(plan: Plan): ReadingRow[] {
  const { calibrations, withheld, outdated } = potLightOf(plan);
  const numbers = new Map(plan.rack.shelves.map((shelf) => [shelf.id, shelf.number]));
  const checked = new Map(
    [...calibrations.values(), ...withheld.values()].flatMap((c) =>
      c.readings.map((r) => [r.readingId, r] as const),
    ),
  );
  return plan.light.readings.map((reading) => {
    const ppfd = readingPpfd(reading);
    return {
      reading,
      shelfNumber: numbers.get(reading.shelfId) ?? 0,
      measuredUmol: typeof ppfd === 'number' ? ppfd : null,
      checked: checked.get(reading.id) ?? null,
      outdated: outdated.has(reading.id),
    };
  });
}

/** The calibrations by shelf, in the rack's order. */
export function calibrationsOf(plan: Plan): { shelfNumber: number; calibration: ReadingsFound }[] {
  const { calibrations } = potLightOf(plan);
  return plan.rack.shelves.flatMap((shelf) => {
    const calibration = calibrations.get(shelf.id);
    return calibration ? [{ shelfNumber: shelf.number, calibration }] : [];
  });
}

/** Calibrations that are too strange to be followed, by shelf, each with the reason in words. */
export function withheldOf(
  plan: Plan,
): { shelfNumber: number; calibration: ReadingsFound; reason: string; remedy: string }[] {
  const { withheld } = potLightOf(plan);
  return plan.rack.shelves.flatMap((shelf) => {
    const calibration = withheld.get(shelf.id);
    if (!calibration?.implausible) return [];
    const { text, remedy } = withheldNotice(
      shelf,
      plan.light,
      calibration.implausible,
      plan.display.lengths,
    );
    return [{ shelfNumber: shelf.number, calibration, reason: text, remedy }];
  });
}

/** Readings left out for a slip of unit or decimal point, in words, a line for each slip of a shelf. */
export function slipsOf(plan: Plan): string[] {
  const { calibrations } = potLightOf(plan);
  return plan.rack.shelves.flatMap((shelf) => {
    const calibration = calibrations.get(shelf.id);
    const notices = calibration ? slipNotices(shelf, calibration) : [];
    return notices.map(({ text, remedy }) => `${text} ${remedy}`);
  });
}

/** A pot's place by its code, for a reading taken at it; null where no pot has that code. */
export function placeOfCode(plan: Plan, code: string): SensorPlace | null {
  const pot = codeBook(plan)(code);
  if (!pot || pot === 'several') return null;
  const shelf = plan.rack.shelves.find((s) => s.id === pot.shelfId);
  if (!shelf) return null;
  const zMm = canopyOver(shelf, plan.light.canopyAt)(pot.xMm, pot.yMm);
  return { shelfId: shelf.id, xMm: pot.xMm, yMm: pot.yMm, zMm };
}
