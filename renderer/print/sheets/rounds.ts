import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { measurementsInOrder } from '../../document';
import { quantityOf } from '../../engine/findings';
import { bodyMm, type Frame } from '../frame';
import type { PrintOptions } from '../options';
import type { Sheet } from '../paper';
import { sayDay } from '../../words';

/** Room to write one figure by hand, and a previous figure beside it. */
const CELL_MM = 19;
const PREVIOUS_MM = 13;
const NOTE_MM = 26;
export const HALVES_GAP_MM = 7;

export interface Column {
  measurement: Measurement;
  /** Of the same thing, taken before; null: none, or not wished. */
  previous: Measurement | null;
}

export interface Round {
  words: string;
  columns: Column[];
}

const MOMENT_WORDS = { start: 'start', interim: 'in between', harvest: 'harvest' } as const;

/**
 * Measurements that are taken together: of one timepoint and one date. `only` leaves all others out;
 * where the plan has none of them any more, all are taken.
 */
export function roundsOf(
  plan: Plan,
  withPrevious: boolean,
  only: readonly string[] | null = null,
): Round[] {
  const rounds = allRounds(plan, withPrevious);
  const chosen = rounds
    .map(({ words, columns }) => ({
      words,
      columns: columns.filter(({ measurement }) => only?.includes(measurement.id)),
    }))
    .filter(({ columns }) => columns.length > 0);
  return chosen.length > 0 ? chosen : rounds;
}

function allRounds(plan: Plan, withPrevious: boolean): Round[] {
  const measurements = measurementsInOrder(plan);
  const rounds = new Map<string, Round>();
  measurements.forEach((measurement, i) => {
    const date = measurement.date === null ? '' : ` ${sayDay(measurement.date)}`;
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

export interface RoundPart extends Round {
  sheet: Sheet;
  /** Lists side by side on a page. */
  halves: number;
}

/** Width of a column to write in. */
export function columnMm(column: Column): number {
  return CELL_MM + (column.previous ? PREVIOUS_MM : 0);
}

/** Of columns with what stands before them, and the room for notes. */
export function columnsMm(columns: readonly Column[], fixedMm: number): number {
  return columns.reduce((sum, column) => sum + columnMm(column), fixedMm + NOTE_MM);
}

/** Lays the paper so that a round fits, and breaks a round that is too wide even so. */
export function roundParts(
  frame: Frame,
  options: PrintOptions,
  round: Round,
  fixedMm: number,
): RoundPart[] {
  const tall: Sheet = { paper: options.paper, wide: false };
  const wide: Sheet = { paper: options.paper, wide: true };
  const [tallMm, wideMm] = [bodyMm(frame, tall).width, bodyMm(frame, wide).width];
  const needed = columnsMm(round.columns, fixedMm);
  if (2 * needed + HALVES_GAP_MM <= tallMm) return [{ ...round, sheet: tall, halves: 2 }];
  if (needed <= tallMm) return [{ ...round, sheet: tall, halves: 1 }];
  if (needed <= wideMm) return [{ ...round, sheet: wide, halves: 1 }];
  const parts: Column[][] = [[]];
  for (const column of round.columns) {
    const last = parts.at(-1);
    if (last && last.length > 0 && columnsMm([...last, column], fixedMm) > wideMm) parts.push([]);
    parts.at(-1)?.push(column);
  }
  return parts.map((columns, i) => ({
    words: `${round.words}, part ${i + 1} of ${parts.length}`,
    columns,
    sheet: wide,
    halves: 1,
  }));
}
