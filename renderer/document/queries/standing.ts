import type { Plan } from '../../../shared-types/plan';
import { countOf } from '../changedKeys';
import { list, plural } from '../../words';

/** What has been recorded of plants under their treatment. */
export interface StandingRecords {
  /** Values taken after the start, first and second entry. */
  values: number;
  /** Pots marked dead, missing or excluded since the layout was drawn. */
  marks: number;
  /** Exchanges logged at the rack. */
  exchanges: number;
}

/**
 * The records that mean nothing without the layout they were taken on; null: none. Values at the
 * start are the plant's own, and stay true under any draw.
 */
export function standingRecords(
  plan: Pick<Plan, 'trial' | 'layout' | 'records'>,
): StandingRecords | null {
  const { trial, layout, records } = plan;
  const later = (trial?.measurements ?? []).filter((m) => m.timepoint !== 'start');
  const values = later.reduce((n, { id }) => n + sizeOf(records.values[id]), 0);
  const second = later.reduce((n, { id }) => n + sizeOf(records.second[id]), 0);
  const standing = {
    values: values + second,
    marks: layout ? sizeOf(records.marks) + sizeOf(records.secondMarks) : 0,
    exchanges: layout?.swaps.length ?? 0,
  };
  return standing.values + standing.marks + standing.exchanges > 0 ? standing : null;
}

/** `424 values, 5 marks and 1 exchange`. */
export function sayStanding({ values, marks, exchanges }: StandingRecords): string {
  return list(
    [
      values > 0 && plural(values, 'value'),
      marks > 0 && plural(marks, 'mark'),
      exchanges > 0 && plural(exchanges, 'exchange'),
    ].filter((part) => part !== false),
  );
}

function sizeOf(byPot: Readonly<Record<string, unknown>> | undefined): number {
  return byPot ? countOf(byPot) : 0;
}
