import type { DataTable } from '../../../shared-types/fit';
import type { Trial } from '../../../shared-types/trial/trial';
import type { PositionModel } from '../../../shared-types/trial/position';
import type { PotChecks } from './checks';
import type { PositionFit } from './position/positions';
import type { EdgeEffect, Effect, Gradient } from './position/effects';
import type { Obstacle } from './refused/obstacle';
import type { Question } from './question';
import type { DesignModel } from './model/designModel';
import type { FactorRole } from './model/roles';
import type { UnitMismatch } from './refused/unitMismatches';
import type { Slowing } from './refused/saturation';
import type { ResponseScale } from './model/scale';
import type { Averaged } from './model/unitMeans';
import type { LightUnit } from '../trial/lightWithin';
import type { RunsTogether, TrialTable } from './table/table';
import type { ScoreTest } from './scores';
import type { RunTest } from './runTests';

export interface Findings {
  question: Question;
  response: { name: string; unit: string };
  /** Scale of the model; null: as measured. Differences and coefficients are on it. */
  scale: ResponseScale;
  confidence: number;
  alpha: number;
  /** Every pot, whether it was analysed by itself or within a mean. */
  table: DataTable;
  pots: TrialTable['pots'];
  /** Counts that were averaged per unit; null: every pot was analysed by itself. */
  averaged: Averaged | null;
  /** Whether rows and columns of the table are places. */
  placed: boolean;
  leftOut: TrialTable['leftOut'];
  roles: FactorRole[];
  design: DesignModel;
  /** The model named in the plan, or `none` where that one could not be fitted. */
  primary: PositionFit;
  /** The model that the plan names. */
  plannedModel: PositionModel;
  /** When that was fixed; null: the plan does not say; `table`: there is no plan. */
  analysisLocked: RuleFixed | null | 'table';
  /** What the plan asks to be allowed for and cannot be, each as a sentence. */
  unused: string[];
  /** Factors judged by smaller units than they were laid on. */
  unitMismatches: UnitMismatch[];
  /** Levels without a single usable pot, of which nothing can be said. */
  lost: { factor: string; levels: string[] }[];
  /** Every position model that could be fitted, the primary one among them. */
  positions: PositionFit[];
  /** Models that could not be fitted, with the reason. */
  refused: { model: PositionModel; reason: string }[];
  /** Edge pots minus inner pots, treatments and blocks allowed for; null where all are alike. */
  edge: EdgeEffect | null;
  /** Whether light is the mean over the trial, its trays moved by a rota; else it is as drawn. */
  lightOverTrial: boolean;
  /** What is to be said of covariates that a treatment can change. */
  cautions: string[];
  /** The unit of a light treatment whose mean is taken from the light at each pot; null without. */
  lightUnit: LightUnit | null;
  /** Change of the response per µmol m⁻² s⁻¹; null where light does not vary. */
  light: Effect | null;
  /** A plane over the rows and columns of each tray. */
  gradient: Gradient | null;
  /** Raw means of factors that cannot be tested. */
  described: {
    factor: string;
    rows: { level: string; units: number; pots: number; mean: number }[];
  }[];
  checks: PotChecks;
  /** Residual of the primary model over its standard deviation, by pot id; of a mean, each its pots. */
  residuals: Map<string, number>;
  /** Why this is not the question that was planned, as a sentence; null where it is. */
  unplanned: string | null;
  /** How many measurements there are beside this one, and what that means; null where it is alone. */
  multiplicity: string | null;
  /** Runs that are taken together, and whether what the factors do differs between them. */
  runs: (RunsTogether & { tests: RunTest[] }) | null;
  /** What the shuffle says of each factor, where the measurement is a score; else empty. */
  scoreTests: ScoreTest[];
  /** Whether growth slowed before harvest; null without interim records. */
  slowing: Slowing | null;
}

export type RuleFixed = NonNullable<Trial['analysisLocked']>;

export type FindingsOutcome =
  | { ok: true; findings: Findings }
  /**
   * Nothing can be said yet; `missing` says what is wanted, as a sentence. `obstacle`: the question
   * cannot be answered as it was asked.
   */
  | { ok: false; missing: string; obstacle?: Obstacle };

/** The pots that a row of the checks speaks of, by id: one, or those of a mean. */
export function potsBehind({ averaged }: Pick<Findings, 'averaged'>, potId: string): string[] {
  return [...(averaged?.members.get(potId) ?? [potId])];
}
