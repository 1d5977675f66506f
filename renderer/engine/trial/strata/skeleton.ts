import type { UnitKind } from '../../../../shared-types/trial/trial';

/** One line of the analysis of variance that the design asks for. */
export interface SkeletonRow {
  source: string;
  df: number;
  /** Name of the stratum: `shelves`, `trays`, `pots`, `blocks`, or `cells` where strips cross. */
  stratum: string;
  /** Units of the stratum: so many shelves, trays, cells, pots. */
  units: number;
  isError: boolean;
  /** Factors of this source; [] for blocks, rows, columns and error. */
  factorIds: string[];
}

/** What carries one factor, and how well it can be judged. */
export interface FactorUnits {
  factorId: string;
  name: string;
  /** The experimental unit. */
  unit: UnitKind;
  unitCount: number;
  /** Units that carry each level; for a drawn factor what its draw gives at least. */
  unitsPerLevel: { levelId: string; name: string; units: number }[];
  stratum: string;
  /** The line of the skeleton that is this factor's error term. */
  errorTerm: string;
  errorDf: number;
  /** False where every level sits on one unit only: the level can't be told from the unit. */
  replicated: boolean;
}

export interface UnitsReport {
  factors: FactorUnits[];
  skeleton: SkeletonRow[];
}
