import type { Pot } from '../../../engine/geometry';
import type { Records } from '../../../../shared-types/records';
import type { Measurement } from '../../../../shared-types/trial/measurement';

/** A value that looks like a slip of reading or typing. Asked about, never changed. */
export interface Slip {
  kind:
    | 'out-of-range'
    | 'far-from-neighbours'
    | 'off-by-factor'
    | 'finger-slip'
    | 'not-whole'
    | 'shrank'
    | 'double-entry-differs';
  potId: string;
  measurementId: string;
  value: number;
  /** What is odd about it, with the figures. */
  text: string;
}

/** What the slips of one measurement are found in. */
export interface SlipSource {
  measurement: Measurement;
  /** The measured pots, in the order of the rack. */
  pots: readonly Pot[];
  values: Readonly<Record<string, number>>;
  second: Readonly<Record<string, number>>;
  marks: Records['marks'];
  /** The same quantity when it was measured before, the last time that has values. */
  before: { measurement: Measurement; values: Readonly<Record<string, number>> } | null;
  /** The treatment of each pot, where a layout has given any. */
  treatmentOf: ReadonlyMap<string, string> | null;
}

/** What a column is by itself: neither what was measured before nor the second entry plays a part. */
export type ColumnSource = Omit<SlipSource, 'before' | 'second'>;
