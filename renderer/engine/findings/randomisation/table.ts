import type { DataTable } from '../../../../shared-types/fit';
import type { UnitKind } from '../../../../shared-types/trial/trial';
import { buildDesign } from '../../stats/design';
import { holdOthers, planRandomisation, randomisationStatistic } from '../../stats/randomisation';
import { tableAllocation } from '../model/allocation';
import { tableOf, type TableReading } from '../table/externalTable';
import { shuffleLabels, type CountedLayouts, type RandomisationFound } from './count';
import { POTS_OF_COUNTS } from './test';
import { bareRequest } from './bare';
import { placedRandomisation } from './placed';
import { designModel, type DesignModel } from '../model/designModel';
import {
  constantWithinUnits,
  levelsPresent,
  factorRoles,
  unitColumn,
  type FactorRole,
} from '../model/roles';
import { COLUMN } from '../table/columns';
import type { TrialTable } from '../table/table';
import { analysedOf } from '../model/unitMeans';
import { list, Refusal } from '../../../words';

export interface TableRandomisationAsked {
  /** Names of the factors of the term. */
  factors: readonly string[];
  runs: number;
  seed: string;
}

const FINEST = ['shelf', 'tray', 'pot'] as const;

/**
 * Randomisation test for a table from elsewhere. How it was drawn is not known, so labels are
 * shuffled as the columns say: those of the finest factor of the term between its units, within
 * blocks and coarser units. Throws with a sentence where there is nothing to shuffle.
 */
export function tableRandomisationTest(
  source: DataTable,
  reading: TableReading,
  asked: TableRandomisationAsked,
  tell: (done: number, total: number) => void = () => undefined,
): RandomisationFound {
  const { data: table, factors } = tableOf(source, reading);
  const roles = factorRoles(table, factors);
  const planned = reading.scale ?? null;
  const ofPots = { data: table, design: designModel(table, roles), scale: planned };
  const wanted = wantedIn(ofPots.design, asked.factors);
  const unit = FINEST.findLast((kind) => wanted.some((role) => role.unit === kind)) ?? 'pot';
  // As where the layout is drawn anew: means stay what they are only while pots stay.
  const onMeans = unit !== 'pot';
  const means = analysedOf(table, roles, planned);
  const { data, design, scale } = onMeans ? means : ofPots;
  const moving = wanted.map((role) => role.column);
  const term = moving.join(' × ');
  const units = unit === 'pot' ? 'pots' : unit === 'tray' ? 'trays' : 'shelves';
  const options = { edgeVaries: levelsPresent(table, COLUMN.edge).length > 1, scale };
  const seed = asked.seed || reading.title || 'table';
  if (!onMeans) {
    tell(0, 1);
    const allocation = tableAllocation(data, design, { runs: asked.runs, seed });
    const placed = placedRandomisation(
      design,
      data.table,
      reading.position,
      { ...options, confidence: 1 - reading.alpha, allocation },
      moving,
    );
    tell(1, 1);
    if (placed) {
      const method = methodOf(units, allocation?.within ?? '', placed);
      return { term, unit, ...placed, method };
    }
  }
  const column = unitColumn(unit);
  const coarser = design.randomUnits.flat().filter((name) => name !== column);
  const within = shuffledWithin(data, unit, coarser);
  const request = bareRequest(design, options, onMeans ? [] : coarser);
  const laid = buildDesign(request, data.table);
  const shuffled = { within, unit: onMeans ? [column] : [], runs: asked.runs, seed: '', term };
  const plan = holdOthers(planRandomisation(request, shuffled, data.table, laid), moving);
  const statistic = randomisationStatistic(laid, plan, 'marginal');
  const counted = shuffleLabels(plan, statistic, { runs: asked.runs, seed }, tell);
  const pots = onMeans || means.averaged === null ? '' : POTS_OF_COUNTS;
  return {
    term,
    moved: [...plan.moved],
    unit,
    ...counted,
    answers: false,
    approximate: wanted.length > 1 ? 'interaction' : null,
    method: methodOf(units, list(within), counted) + pots,
  };
}

/** The factors of a term. Throws with a sentence where one of them cannot be shuffled. */
function wantedIn(design: DesignModel, names: readonly string[]): FactorRole[] {
  const wanted = names.map((name): FactorRole => {
    const role = design.tested.find((one) => one.factor.name === name);
    if (role) return role;
    throw new Refusal(
      `${name}: it cannot be tested in this table, so there is nothing to shuffle.`,
    );
  });
  const given = wanted.find((role) => role.factor.kind === 'fixed');
  if (!given) return wanted;
  throw new Refusal(
    `${given.factor.name} is a property that nobody drew, so there is nothing to draw anew.`,
  );
}

/** Columns within whose levels the labels of units stay: blocks and coarser units that hold them whole. */
function shuffledWithin(data: TrialTable, unit: UnitKind, coarser: readonly string[]): string[] {
  const column = unitColumn(unit);
  const blocked =
    levelsPresent(data, COLUMN.block).length > 1 &&
    (unit === 'pot' || constantWithinUnits(data, COLUMN.block, column));
  return [...new Set([...(blocked ? [COLUMN.block] : []), ...coarser])].filter((name) =>
    constantWithinUnits(data, name, column),
  );
}

/** How the labels were moved, as a sentence. */
function methodOf(units: string, within: string, { runs, exact }: CountedLayouts): string {
  const place = within === '' ? '' : ` within each ${within}`;
  return exact
    ? `All ${runs} ways of laying the same labels on the ${units} with values${place} were listed.`
    : `The labels were shuffled ${runs} times between the ${units} with values${place}, for how the table was drawn is not known.`;
}
