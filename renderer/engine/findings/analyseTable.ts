import type { Allocation } from '../stats/randomisation';
import type { PositionModel } from '../../../shared-types/trial/position';
import { checksOf } from './checks';
import { fitPosition, MODELS, refuseManyPots, type PositionFit } from './position/positions';
import { edgeEffect, gradientOf, lightEffect } from './position/effects';
import { responseName, scaleOf, type Question } from './question';
import type { DesignModel } from './model/designModel';
import type { Asked } from './model/request';
import { levelsPresent, factorRoles, type FactorRole } from './model/roles';
import { withUnitLight } from './model/fitModel';
import { unitMismatches } from './refused/unitMismatches';
import { isCounts } from './model/scale';
import { analysedOf, refusePlaceOfMeans, type Analysed, type Averaged } from './model/unitMeans';
import { whyNotAnalysable, whyMeansNotAnalysable } from './refused/whyNotAnalysable';
import type { TrialTable } from './table/table';
import { runTests } from './runTests';
import { COLUMN } from './table/columns';
import { capital, reasonOf } from '../../words';
import { potsBehind, type Findings, type FindingsOutcome } from './findings';

export interface AnalysisPlan {
  question: Question;
  factors: FactorRole['factor'][];
  alpha: number;
  plannedModel: PositionModel;
  analysisLocked: Findings['analysisLocked'];
  primaryOnly: boolean;
  /** Told before each model how many of them are done. */
  onProgress?: (done: number, total: number) => void;
  /** How chance laid factors on the pots of the table. */
  allocationOf: (design: DesignModel) => Allocation | null;
}

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
  const { positions, refused } = underEachModel(plan, { data, design, averaged }, asked);
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
    lost: roles.flatMap(levelsLost),
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
    residuals: residualsOf(checks, averaged),
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

/** The same question under each position model, and why some cannot be asked. */
function underEachModel(
  { plannedModel, primaryOnly, onProgress }: AnalysisPlan,
  { data, design, averaged }: Pick<Analysed, 'data' | 'design' | 'averaged'>,
  asked: Asked,
): Pick<Findings, 'positions' | 'refused'> {
  const positions: PositionFit[] = [];
  const refused: Findings['refused'] = [];
  const tried = primaryOnly ? [...new Set([plannedModel, 'none' as const])] : MODELS;
  for (const [i, model] of tried.entries()) {
    onProgress?.(i, tried.length);
    try {
      if (averaged) refusePlaceOfMeans(model, averaged);
      if (model !== plannedModel) refuseManyPots(model, data);
      positions.push(fitPosition(data, design, model, { ...asked, whole: model === plannedModel }));
    } catch (error) {
      refused.push({ model, reason: reasonOf(error) });
    }
  }
  return { positions, refused };
}

/** Levels of a factor of which no plant is left. */
function levelsLost({ factor, unitsPerLevel }: FactorRole): Findings['lost'] {
  const levels = factor.levels.map(({ name }) => name).filter((name) => !unitsPerLevel.has(name));
  return levels.length > 0 ? [{ factor: factor.name, levels }] : [];
}

/** Standardised residuals by pot; that of a mean stands for all pots behind it. */
function residualsOf(
  { pots }: Findings['checks'],
  averaged: Averaged | null,
): Findings['residuals'] {
  return new Map(
    pots.flatMap(({ potId, standardised }) =>
      potsBehind({ averaged }, potId).map((id) => [id, standardised] as const),
    ),
  );
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
