import type { Factor, UnitKind } from '../../../../shared-types/trial/trial';
import { allInOne, connectedParts } from '../site/partition';
import type { Partition } from '../site/partition';
import type { Site } from '../site/site';

export const stratumName: Record<UnitKind, string> = {
  shelf: 'shelves',
  zone: 'reservoirs',
  bay: 'bays',
  tray: 'trays',
  'row-strip': 'strips of rows',
  'column-strip': 'strips of columns',
  pot: 'pots',
};

/** Units among which some effects are judged, on the way from the whole rack down to single pots. */
export interface Stratum {
  name: string;
  partition: Partition;
  /** The coarser units whose differences belong to other strata. */
  within: Partition;
  /** Units that cut across those and have a stratum of their own; null except in a strip plot. */
  across: Partition | null;
  /** Main effects and interactions judged here. */
  sources: Factor[][];
}

/** Degrees of freedom of a stratum: its units, less what other strata tell of them. */
export function stratumDf({ partition, within, across }: Stratum): number {
  const own = partition.count - within.count;
  return across ? own - across.count + connectedParts(within, across) : own;
}

export interface Link {
  name: string;
  partition: Partition;
  /** Factors that sit on exactly these units. */
  factors: Factor[];
}

/** A source that cuts across coarser units and takes its degrees of freedom within a stratum. */
export interface Crossing {
  source: string;
  df: number;
  stratum: string;
  partition: Partition;
}

export const wholeOf = (site: Site): Partition => allInOne(site.pots.length);
