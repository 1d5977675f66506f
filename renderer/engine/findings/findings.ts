import type { DataTable } from '../../../shared-types/fit';
import type { Allocation } from '../stats/randomisation';
import type { PositionModel, Trial } from '../../../shared-types/trial';
import { allocationOf, layoutsForFindings } from './allocation';
import { checksOf, type PotChecks } from './checks';
import {
  edgeEffect,
  fitPosition,
  gradientOf,
  lightEffect,
  MODELS,
  refuseManyPots,
  type EdgeEffect,
  type Effect,
  type Gradient,
  type PositionFit,
} from './position/positions';
import { multiplicityWords, questionOf, unplannedWords } from './asked';
import type { Obstacle } from './refused/obstacle';
import {
  responseName,
  scaleOf,
  type FindingsInput,
  type Question,
  type ResponseIndex,
} from './question';
import type { Asked, DesignModel } from './request';
import { levelsPresent, factorRoles, type FactorRole } from './roles';
import { withUnitLight } from './fitModel';
import { unitMismatches, type UnitMismatch } from './refused/unitMismatches';
import { slowingOf, type Slowing } from './refused/saturation';
import { isCounts, type ResponseScale } from './scale';
import { analysedOf, refusePlaceOfMeans, type Averaged } from './unitMeans';
import { whyNotAnalysable, whyMeansNotAnalysable } from './refused/whyNotAnalysable';
import { covariateCautions } from './covariateCautions';
import { lightUnitOf, type LightUnit } from '../trial/lightWithin';
import { runsAnswering } from './table/rows';
import { trialTable, type RunsTogether, type TrialTable } from './table/table';
import { scoreTestsOf, type ScoreTest } from './scores';
import { whyNoRun } from './refused/whyNoRun';
import { runTests, type RunTest } from './runTests';
import { COLUMN } from './table/columns';
import { capital, reasonOf } from '../../words';

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

export type FindingsOutcome =
  | { ok: true; findings: Findings }
  /**
   * Nothing can be said yet; `missing` says what is wanted, as a sentence. `obstacle`: the question
   * cannot be answered as it was asked.
   */
  | { ok: false; missing: string; obstacle?: Obstacle };

export interface FindingsOptions {
  measurementId?: string | null;
  index?: ResponseIndex;
  /** Pots taken out by id, to see what the answer owes to them. */
  setAside?: readonly string[];
  /** Only the model that answers, not the others beside it. */
  primaryOnly?: boolean;
  /** Told before each model how many of them are done. */
  onProgress?: (done: number, total: number) => void;
}

/**
 * All findings for one measurement. The table is fitted under every position model; the one named
 * in the plan gives the answer, the others show whether it holds.
 */
export function findingsOf(input: FindingsInput, options: FindingsOptions = {}): FindingsOutcome {
  const { trial } = input;
  const question = questionOf(trial, options.measurementId, options.index);
  if (!question) return { ok: false, missing: 'No measurement is planned for the harvest.' };
  const runs = runsAnswering(input, question);
  for (const run of runs) {
    const missing = whyNoRun(run, question, runs.length > 1);
    if (missing) return missing;
  }
  // The one run that has values is looked at by itself, whichever is in hand.
  const [only] = runs;
  const taken = runs.length === 1 && only ? { ...only, all: [only] } : { ...input, all: runs };
  const data = trialTable(taken, question, new Set(options.setAside));
  const found = analyseTable(data, {
    question,
    factors: trial.factors,
    alpha: trial.alpha,
    plannedModel: trial.primaryPosition,
    analysisLocked: trial.analysisLocked ?? null,
    primaryOnly: options.primaryOnly ?? false,
    ...(options.onProgress ? { onProgress: options.onProgress } : {}),
    allocationOf: (design) =>
      allocationOf(taken, data, design, {
        runs: layoutsForFindings(trial.alpha),
        seed: taken.layout?.seed ?? '',
      }),
  });
  if (!found.ok) return found;
  const { tested } = found.findings.design;
  const scoreTests = options.primaryOnly ? [] : scoreTestsOf(taken, question, tested);
  const slowing = slowingOf(taken, question.measurement, found.findings.confidence);
  const lightTaken = {
    lightOverTrial: runs.some((run) => run.lightOverTrial),
    lightUnit: lightUnitOf(trial.factors),
    cautions: covariateCautions(
      trial,
      runs.some((run) => run.lightByTypedHeights),
    ),
  };
  const unplanned = unplannedWords(trial, question);
  const multiplicity = multiplicityWords(trial, question, taken.records);
  return {
    ok: true,
    findings: { ...found.findings, scoreTests, slowing, ...lightTaken, unplanned, multiplicity },
  };
}

export interface AnalysisPlan {
  question: Question;
  factors: FactorRole['factor'][];
  alpha: number;
  plannedModel: PositionModel;
  analysisLocked: Findings['analysisLocked'];
  primaryOnly: boolean;
  onProgress?: FindingsOptions['onProgress'];
  /** How chance laid factors on the pots of the table. */
  allocationOf: (design: DesignModel) => Allocation | null;
}

export type RuleFixed = NonNullable<Trial['analysisLocked']>;

/** The findings of a table whose columns are already those of `COLUMN`. */
export function analyseTable(source: TrialTable, plan: AnalysisPlan): FindingsOutcome {
  const { question, alpha, plannedModel } = plan;
  const roles = factorRoles(source, plan.factors);
  const { design, scale, ...analysed } = analysedOf(source, roles, scaleOf(question));
  // The table that is exported holds all that its requests name.
  const table = withUnitLight(analysed.data.table, design.randomUnits);
  const data = { ...analysed.data, table };
  const averaged = analysed.averaged && { ...analysed.averaged, table };
  const missing =
    whyNotAnalysable(source, question, scaleOf(question)) ??
    (averaged && whyMeansNotAnalysable(data, question));
  if (missing !== null) return { ok: false, missing };
  const asked: Asked = {
    confidence: 1 - alpha,
    edgeVaries: levelsPresent(data, COLUMN.edge).length > 1,
    scale,
    // The shuffle moves single pots, which a mean does not show.
    allocation: averaged ? null : plan.allocationOf(design),
  };
  const positions: PositionFit[] = [];
  const refused: Findings['refused'] = [];
  const tried = plan.primaryOnly ? [...new Set([plannedModel, 'none' as const])] : MODELS;
  for (const [i, model] of tried.entries()) {
    plan.onProgress?.(i, tried.length);
    try {
      if (averaged) refusePlaceOfMeans(model, averaged);
      if (model !== plannedModel) refuseManyPots(model, data);
      positions.push(fitPosition(data, design, model, { ...asked, whole: model === plannedModel }));
    } catch (error) {
      refused.push({ model, reason: reasonOf(error) });
    }
  }
  const primary = primaryOf(data, design, plannedModel, positions, asked);
  if (!primary) {
    const reason = refused.find((r) => r.model === 'none')?.reason ?? refused[0]?.reason;
    return { ok: false, missing: capital(reason ?? 'the table could not be analysed') };
  }
  const checks = checksOf(data, design, primary.model, primary.result, asked);
  const findings: Findings = {
    question,
    response: responseName(question),
    scale,
    confidence: asked.confidence,
    alpha,
    table: averaged ? source.table : table,
    pots: source.pots,
    averaged,
    placed: source.placed,
    leftOut: source.leftOut,
    roles,
    design,
    primary,
    plannedModel,
    analysisLocked: plan.analysisLocked,
    unused: source.unused,
    unitMismatches: unitMismatches(source, roles),
    lost: roles.flatMap(({ factor, unitsPerLevel }) => {
      const levels = factor.levels.map(({ name }) => name).filter((n) => !unitsPerLevel.has(n));
      return levels.length > 0 ? [{ factor: factor.name, levels }] : [];
    }),
    positions,
    refused,
    edge: edgeEffect(positions),
    lightOverTrial: false,
    lightUnit: null,
    cautions: [],
    light: lightEffect(positions, asked.confidence),
    gradient: gradientOf(positions, asked.confidence),
    described: design.notReplicated.map((role) => describe(source, role)),
    checks,
    residuals: new Map(
      checks.pots.flatMap(({ potId, standardised }) =>
        potsBehind({ averaged }, potId).map((id) => [id, standardised] as const),
      ),
    ),
    unplanned: null,
    multiplicity: null,
    runs: source.runs && {
      ...source.runs,
      // Runs of counts are compared by their means over units, or not at all.
      tests: isCounts(scale) ? [] : runTests(data, design, asked),
    },
    scoreTests: [],
    slowing: null,
  };
  return { ok: true, findings };
}

/** The pots that a row of the checks speaks of, by id: one, or those of a mean. */
export function potsBehind({ averaged }: Pick<Findings, 'averaged'>, potId: string): string[] {
  return [...(averaged?.members.get(potId) ?? [potId])];
}

/** The planned model, or position left out, then fitted once more with all that is shown of it. */
function primaryOf(
  data: TrialTable,
  design: DesignModel,
  planned: PositionModel,
  positions: PositionFit[],
  asked: Asked,
): PositionFit | null {
  const wanted = positions.find((p) => p.model === planned);
  if (wanted) return wanted;
  const at = positions.findIndex((p) => p.model === 'none');
  if (at < 0) return null;
  const whole = fitPosition(data, design, 'none', { ...asked, whole: true });
  positions[at] = whole;
  return whole;
}

function describe(data: TrialTable, role: FactorRole): Findings['described'][number] {
  const levels = data.table.columns[role.column] ?? [];
  const responses = data.table.columns[COLUMN.response] ?? [];
  const rows = [...role.unitsPerLevel].map(([level, units]) => {
    const values = responses.filter(
      (v, i): v is number => typeof v === 'number' && String(levels[i]) === level,
    );
    return {
      level,
      units,
      pots: values.length,
      mean: values.reduce((sum, v) => sum + v, 0) / values.length,
    };
  });
  return { factor: role.factor.name, rows };
}
