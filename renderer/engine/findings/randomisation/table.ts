import type { DataTable } from '../../../../shared-types/fit';
import { buildDesign } from '../../stats/design';
import { holdOthers, planRandomisation, randomisationStatistic } from '../../stats/randomisation';
import { tableAllocation } from '../allocation';
import { tableOf, type TableReading } from '../table/externalTable';
import { shuffleLabels, type CountedLayouts, type RandomisationFound } from './count';
import { POTS_OF_COUNTS } from './test';
import { placedRandomisation } from './placed';
import { designModel, requestFor } from '../request';
import {
  constantWithinUnits,
  levelsPresent,
  factorRoles,
  unitColumn,
  type FactorRole,
} from '../roles';
import { isCounts } from '../scale';
import { COLUMN } from '../table/columns';
import { analysedOf } from '../unitMeans';
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
  const wanted = asked.factors.map((name): FactorRole => {
    const role = ofPots.design.tested.find((r) => r.factor.name === name);
    if (role) return role;
    throw new Refusal(
      `${name}: it cannot be tested in this table, so there is nothing to shuffle.`,
    );
  });
  const given = wanted.find((role) => role.factor.kind === 'fixed');
  if (given) {
    throw new Refusal(
      `${given.factor.name} is a property that nobody drew, so there is nothing to draw anew.`,
    );
  }
  const unit = FINEST.findLast((kind) => wanted.some((role) => role.unit === kind)) ?? 'pot';
  // As where the layout is drawn anew: means stay what they are only while pots stay.
  const onMeans = unit !== 'pot';
  const means = analysedOf(table, roles, planned);
  const pots = onMeans || means.averaged === null ? '' : POTS_OF_COUNTS;
  const { data, design, scale } = onMeans ? means : ofPots;
  const column = unitColumn(unit);
  const coarser = design.randomUnits.flat().filter((name) => name !== column);
  const blocked =
    levelsPresent(data, COLUMN.block).length > 1 &&
    (unit === 'pot' || constantWithinUnits(data, COLUMN.block, column));
  const within = [...new Set([...(blocked ? [COLUMN.block] : []), ...coarser])].filter((name) =>
    constantWithinUnits(data, name, column),
  );
  const term = wanted.map((role) => role.column).join(' × ');
  const units = unit === 'pot' ? 'pots' : unit === 'tray' ? 'trays' : 'shelves';
  const options = { edgeVaries: levelsPresent(table, COLUMN.edge).length > 1, scale };
  const seed = asked.seed || reading.title || 'table';
  if (unit === 'pot') {
    tell(0, 1);
    const allocation = tableAllocation(data, design, { runs: asked.runs, seed });
    const placed = placedRandomisation(
      design,
      data.table,
      reading.position,
      { ...options, confidence: 1 - reading.alpha, allocation },
      wanted.map((role) => role.column),
    );
    tell(1, 1);
    if (placed) {
      const method = methodOf(units, allocation?.within ?? '', placed);
      return { term, unit, ...placed, method };
    }
  }
  const request = requestFor(design, 'none', {
    ...options,
    confidence: 0.95,
    scale: isCounts(scale) ? 'sqrt' : scale,
  });
  const bare = {
    ...request,
    fixedBlocks: [...new Set([...request.fixedBlocks, ...(unit === 'pot' ? coarser : [])])],
    randomUnits: [],
    tests: 'marginal' as const,
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  };
  const laid = buildDesign(bare, data.table);
  const shuffled = {
    within,
    unit: unit === 'pot' ? [] : [column],
    runs: asked.runs,
    seed: '',
    term,
  };
  const moving = wanted.map((role) => role.column);
  const plan = holdOthers(planRandomisation(bare, shuffled, data.table, laid), moving);
  const statistic = randomisationStatistic(laid, plan, 'marginal');
  const counted = shuffleLabels(plan, statistic, { runs: asked.runs, seed }, tell);
  return {
    ...{ term, moved: [...plan.moved], unit, ...counted, answers: false },
    approximate: wanted.length > 1 ? 'interaction' : null,
    method: methodOf(units, list(within), counted) + pots,
  };
}

/** How the labels were moved, as a sentence. */
function methodOf(units: string, within: string, { runs, exact }: CountedLayouts): string {
  const place = within === '' ? '' : ` within each ${within}`;
  return exact
    ? `All ${runs} ways of laying the same labels on the ${units} with values${place} were listed.`
    : `The labels were shuffled ${runs} times between the ${units} with values${place}, for how the table was drawn is not known.`;
}
