import type { DataTable, FitResult } from '../../../shared-types/fit';
import type { PositionModel } from '../../../shared-types/trial';
import { tQuantileUpper, tTwoSided } from '../stats/distributions';
import { fit } from '../stats/fit';
import {
  questionOf,
  responseName,
  type FindingsInput,
  type Question,
  type ResponseIndex,
} from './question';
import { designModel, requestFor, type DesignModel } from './request';
import { distinct, factorRoles, type FactorRole } from './roles';
import { COLUMN, trialTable, type TrialTable } from './table';

/** One position model tried on the same table. */
export interface PositionFit {
  model: PositionModel;
  result: FitResult;
}

export interface Effect {
  difference: number;
  se: number;
  df: number | null;
  lower: number;
  upper: number;
  p: number;
}

export interface Findings {
  question: Question;
  response: { name: string; unit: string };
  confidence: number;
  alpha: number;
  table: DataTable;
  pots: TrialTable['pots'];
  leftOut: TrialTable['leftOut'];
  roles: FactorRole[];
  design: DesignModel;
  /** The model fixed in the plan before harvest. */
  primary: PositionFit;
  /** Every position model that could be fitted, the primary one among them. */
  positions: PositionFit[];
  /** Models that could not be fitted, with the reason. */
  refused: { model: PositionModel; reason: string }[];
  /** Edge pots minus inner pots, treatments and blocks allowed for; null where all are alike. */
  edge: (Effect & { edgeMean: number; innerMean: number }) | null;
  /** Change of the response per µmol m⁻² s⁻¹; null where light does not vary. */
  light: Effect | null;
  /** Raw means of factors that cannot be tested. */
  described: {
    factor: string;
    rows: { level: string; units: number; pots: number; mean: number }[];
  }[];
  /** Residual of the primary model over its standard deviation, by pot id. */
  residuals: Map<string, number>;
}

export type FindingsOutcome =
  | { ok: true; findings: Findings }
  /** Nothing can be said yet; `missing` says what is wanted, as a sentence. */
  | { ok: false; missing: string };

const MODELS: readonly PositionModel[] = [
  'none',
  'edge',
  'light',
  'linear',
  'rows+columns',
  'smooth',
  'ar1',
];

/**
 * All findings for one measurement. The table is fitted under every position model; the one fixed
 * in the plan gives the answer, the others show whether it holds.
 */
export function findingsOf(
  input: FindingsInput,
  options: { measurementId?: string | null; index?: ResponseIndex } = {},
): FindingsOutcome {
  const question = questionOf(input.trial, options.measurementId, options.index);
  if (!question) return { ok: false, missing: 'No measurement is planned for the harvest.' };
  if (input.trial.factors.length > 0 && !input.layout) {
    return { ok: false, missing: 'No layout has been drawn, so no pot has a treatment.' };
  }
  const data = trialTable(input, question);
  const usable = (data.table.columns[COLUMN.response] ?? []).filter((v) => v !== null).length;
  if (usable === 0) {
    return { ok: false, missing: `No value of ${question.measurement.name} has been recorded.` };
  }
  const roles = factorRoles(data, input.trial.factors);
  const design = designModel(data, roles, input.trial);
  const confidence = 1 - input.trial.alpha;
  const edgeVaries = distinct(data, COLUMN.edge).length > 1;

  const positions: PositionFit[] = [];
  const refused: Findings['refused'] = [];
  for (const model of MODELS) {
    try {
      positions.push({ model, result: fitDesign(data, design, model, confidence, edgeVaries) });
    } catch (error) {
      refused.push({ model, reason: error instanceof Error ? error.message : String(error) });
    }
  }
  const wanted = positions.find((p) => p.model === input.trial.primaryPosition);
  const primary = wanted ?? positions.find((p) => p.model === 'none');
  if (!primary) {
    return { ok: false, missing: refused[0]?.reason ?? 'The table could not be analysed.' };
  }
  return {
    ok: true,
    findings: {
      question,
      response: responseName(question),
      confidence,
      alpha: input.trial.alpha,
      table: data.table,
      pots: data.pots,
      leftOut: data.leftOut,
      roles,
      design,
      primary,
      positions,
      refused,
      edge: edgeEffect(positions),
      light: lightEffect(positions, confidence),
      described: design.notReplicated.map((role) => describe(data, role)),
      residuals: standardisedResiduals(data, primary.result),
    },
  };
}

function fitDesign(
  data: TrialTable,
  design: DesignModel,
  model: PositionModel,
  confidence: number,
  edgeVaries: boolean,
): FitResult {
  if (model === 'edge' && !edgeVaries) {
    throw new Error(
      'every measured pot has the same kind of place, so edge and inner pots cannot be compared',
    );
  }
  if (model === 'light') {
    const values = (data.table.columns[COLUMN.ppfd] ?? []).filter((v) => typeof v === 'number');
    if (values.length < data.table.rowCount || Math.max(...values) - Math.min(...values) < 1e-9) {
      throw new Error('the light is the same for every measured pot, or not known');
    }
  }
  const complete = data.leftOut.length === 0 && design.covariates.length === 0;
  if (model === 'none' && complete && design.randomUnits.length > 0) {
    try {
      return fit(
        requestFor(design, model, { confidence, edgeVaries, exactStrata: true }),
        data.table,
      );
    } catch {
      // Not balanced enough for error strata: the mixed model below answers the same question.
    }
  }
  return fit(requestFor(design, model, { confidence, edgeVaries }), data.table);
}

function edgeEffect(positions: readonly PositionFit[]): Findings['edge'] {
  const result = positions.find((p) => p.model === 'edge')?.result;
  const comparison = result?.comparisons.find((c) => c.of[0] === COLUMN.edge);
  const row = comparison?.rows[0];
  const means = result?.means.find((m) => m.of[0] === COLUMN.edge)?.rows;
  if (!row || !means) return null;
  const sign = row.a === 'edge' ? 1 : -1;
  const meanOf = (place: string) => means.find((m) => m[COLUMN.edge] === place)?.mean ?? Number.NaN;
  return {
    difference: sign * row.difference,
    se: row.se,
    df: row.df,
    lower: sign === 1 ? row.lower : -row.upper,
    upper: sign === 1 ? row.upper : -row.lower,
    p: row.p,
    edgeMean: meanOf('edge'),
    innerMean: meanOf('inner'),
  };
}

function lightEffect(positions: readonly PositionFit[], confidence: number): Effect | null {
  const result = positions.find((p) => p.model === 'light')?.result;
  const row = result?.coefficients.find((c) => c.name === COLUMN.ppfd);
  if (!row || !Number.isFinite(row.estimate)) return null;
  const df = row.df ?? Infinity;
  const half = tQuantileUpper((1 - confidence) / 2, df) * row.se;
  return {
    difference: row.estimate,
    se: row.se,
    df: row.df,
    lower: row.estimate - half,
    upper: row.estimate + half,
    p: tTwoSided(row.estimate / row.se, df),
  };
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

function standardisedResiduals(data: TrialTable, result: FitResult): Map<string, number> {
  const squares = result.rows.reduce((sum, row) => sum + row.residual ** 2, 0);
  const df = result.residual?.df ?? Math.max(1, result.n - result.coefficients.length);
  const sd = Math.sqrt(squares / df);
  const residuals = new Map<string, number>();
  for (const row of result.rows) {
    const pot = data.pots[row.index];
    if (pot) residuals.set(pot.id, sd > 0 ? row.residual / sd : 0);
  }
  return residuals;
}
