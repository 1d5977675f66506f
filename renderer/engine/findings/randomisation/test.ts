import { buildDesign } from '../../stats/design';
import {
  countArrangements,
  holdOthers,
  randomisationStatistic,
  type RandomisationPlan,
  type RandomisationStatistic,
} from '../../stats/randomisation';
import { drawPrepared, prepareTier } from '../../trial/constraint/prepared';
import { standsOnLightOfToday } from '../../trial/draw/atDraw';
import { drawnSite } from '../../trial/draw/drawnFrom';
import type { Site, Tier } from '../../trial/site/site';
import { isShuffle, siteAllocation } from '../model/allocation';
import { questionOf } from '../asked';
import { obstacleOf } from '../refused/obstacle';
import { scaleOf, type FindingsInput, type ResponseIndex } from '../question';
import {
  countLayouts,
  LISTED,
  listAll,
  shuffleLabels,
  type CountedLayouts,
  type LayoutsCounted,
  type RandomisationFound,
} from './count';
import { bareRequest } from './bare';
import { placedRandomisation } from './placed';
import { planOf } from './plan';
import { designModel } from '../model/designModel';
import { levelsPresent, factorRoles, unitColumn } from '../model/roles';
import { trialTable } from '../table/table';
import { COLUMN } from '../table/columns';
import { analysedOf } from '../model/unitMeans';
import { chosenShare, list, Refusal } from '../../../words';

/** With light as it was at the draw, trays where they were drawn: what blocks and balance rest on. */
export type RandomisationInput = FindingsInput &
  Required<Pick<FindingsInput, 'ppfdAtDraw' | 'startByPot'>>;

export interface RandomisationAsked extends LayoutsCounted {
  measurementId: string | null;
  index: ResponseIndex | null;
  /** Factors of the term, by id: one for a main effect, more for an interaction. */
  factorIds: readonly string[];
}

/**
 * Randomisation test of one term: the records stay with their pots while labels lie anew. Where the
 * plan allows for a smooth surface or the likeness of neighbours, pots are judged by the test that
 * answers, over more layouts. Else the statistic is F by least squares, coarser units and blocks fixed,
 * of the means where counts are averaged per unit and whole units move.
 *
 * Only the finest factor of the term moves, and what was drawn with it stays as it was. Where the
 * scheme or constraint knows no layouts that keep those, all of its tier are drawn anew together.
 *
 * Throws with a sentence where this cannot be done: a given factor, a layout that no longer matches
 * its plan, too few pots.
 */
export function randomisationTest(
  input: RandomisationInput,
  asked: RandomisationAsked,
  tell: (done: number, total: number) => void = () => undefined,
): RandomisationFound {
  const { layout, site, tier, table, roles, ofPots, wanted } = prepare(input, asked);
  const { trial } = input;
  const term = wanted.map((role) => role.column).join(' × ');
  const base = { term, unit: tier.unit };
  const columns = tier.factors.map(({ id, name }) => table.factorColumns.get(id) ?? name);
  const options = { edgeVaries: levelsPresent(table, COLUMN.edge).length > 1, scale: ofPots.scale };
  const onMeans = tier.unit !== 'pot';
  if (!onMeans) {
    tell(0, 1);
    const placed = placedRandomisation(
      ofPots.design,
      table.table,
      trial.primaryPosition,
      { ...options, confidence: 1 - trial.alpha, allocation: siteAllocation(site, table, asked) },
      wanted.map(({ column }) => column),
      tell,
    );
    tell(1, 1);
    if (placed) return { ...base, ...placed, method: methodOf(site, columns, placed) };
  }
  // Means are of pots treated alike in their unit, so they stay what they are only while pots stay.
  const means = analysedOf(table, roles, ofPots.scale);
  const { data, design, scale } = onMeans ? means : ofPots;
  const pots = onMeans || means.averaged === null ? '' : POTS_OF_COUNTS;
  // Units coarser than the ones that move are what their shuffling stays within.
  const column = unitColumn(tier.unit);
  const within = design.randomUnits.filter((unit) => !unit.includes(column));
  const request = bareRequest(design, { ...options, scale }, onMeans ? [] : within.flat());
  const laid = buildDesign(request, data.table);
  const whole = planOf(site, tier, laid, columns, data, layout, term);
  const shuffled = isShuffle(site);
  const own = columns.filter((name) => wanted.some((role) => role.column === name));
  const plan = shuffled ? holdOthers(whole, own) : whole;
  const moved = [...plan.moved];
  const others = moved.length < columns.length;
  const statistic = randomisationStatistic(laid, plan, 'marginal');
  const counted = others
    ? shuffleLabels(plan, statistic, asked, tell)
    : shuffled && isWhole(tier) && countArrangements(plan) <= LISTED
      ? listAll(plan, statistic, tell)
      : countAnew(site, tier, plan, statistic, asked, tell);
  return {
    ...base,
    ...counted,
    moved,
    answers: false,
    approximate: wanted.length > 1 ? 'interaction' : moved.length > own.length ? 'together' : null,
    method: methodOf(site, columns, { ...counted, moved }) + pots,
  };
}

/** Pots that move would change what is averaged. */
export const POTS_OF_COUNTS =
  ' Pots were moved, so F is that of the square roots of their counts, not of the means.';

/** The layout drawn anew again and again, by its scheme and constraint. */
function countAnew(
  site: Site,
  tier: Tier,
  plan: RandomisationPlan,
  statistic: RandomisationStatistic,
  asked: LayoutsCounted,
  tell: (done: number, total: number) => void,
): CountedLayouts {
  const prepared = prepareTier(site, tier);
  const labelsOf = (run: number) =>
    drawPrepared(site, prepared, `${asked.seed} ${run}`).treatmentOf;
  return countLayouts(plan, statistic, asked, tell, labelsOf);
}

/** Whether each group of units holds whole sets of the treatments, so that their numbers are fixed. */
function isWhole(tier: Tier): boolean {
  return tier.groups.every((g) => g.units.length % tier.fullSet.length === 0);
}

/** How the layouts were made, as a sentence. */
function methodOf(
  site: Site,
  columns: readonly string[],
  { runs, exact, moved }: Pick<RandomisationFound, 'runs' | 'exact' | 'moved'>,
): string {
  const still = columns.filter((name) => !moved.includes(name));
  const kept = still.length > 0 ? `; the labels of ${list(still)} stayed where they were` : '';
  if (exact) return `All ${runs} layouts that the draw could have given were listed${kept}.`;
  if (still.length > 0) {
    return `The labels of ${list(moved)} were shuffled ${runs} times as in the draw${kept}.`;
  }
  const { constraint } = site.trial;
  const bounds = [
    ...(constraint.acceptanceShare < 1 && constraint.balance.length > 0
      ? [`the same balance (the best ${chosenShare(constraint.acceptanceShare)} of draws)`]
      : []),
    ...(constraint.likeNeighbours !== null ? ['the same cap on like neighbours'] : []),
  ];
  return (
    `The layout was drawn anew ${runs} times by its own scheme` +
    (bounds.length > 0 ? `, under ${list(bounds)}.` : '.')
  );
}

function prepare(input: RandomisationInput, asked: RandomisationAsked) {
  const { trial, layout } = input;
  const question = questionOf(trial, asked.measurementId, asked.index ?? undefined);
  if (!layout || !question) {
    throw new Refusal(
      'A randomisation test needs a drawn layout and a measurement; the plan lacks one of them.',
    );
  }
  const obstacle = obstacleOf(trial, question, input.records);
  if (obstacle) throw new Refusal(obstacle.text);
  const site = drawnSite({ ...input, ppfdByPot: input.ppfdAtDraw }, layout);
  if (!site) {
    const what = standsOnLightOfToday(trial, layout)
      ? 'The plan, or the light that the layout was drawn by but does not keep, has changed since'
      : 'The plan has changed since';
    throw new Refusal(`${what} the draw, so the draw cannot be repeated as it was.`);
  }
  const table = trialTable(input, question);
  const roles = factorRoles(table, trial.factors);
  const ofPots = { data: table, design: designModel(table, roles), scale: scaleOf(question) };
  const wanted = ofPots.design.tested.filter((role) => asked.factorIds.includes(role.factor.id));
  if (wanted.length !== asked.factorIds.length || wanted.length === 0) {
    throw new Refusal('Only factors that the design can test can be tested by the shuffle.');
  }
  const tier = [...site.tiers]
    .reverse()
    .find((t) => t.factors.some((factor) => asked.factorIds.includes(factor.id)));
  if (!tier) {
    throw new Refusal(
      `${list(wanted.map((role) => role.factor.name))}: nobody drew which unit has which level, so there is nothing to draw anew.`,
    );
  }
  return { layout, site, tier, table, roles, ofPots, wanted };
}
