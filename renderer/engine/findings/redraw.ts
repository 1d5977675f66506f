import type { FitRequest } from '../../../shared-types/fit';
import type { Layout } from '../../../shared-types/layout';
import { buildDesign, type Design } from '../stats/design';
import { nullCovariance } from '../stats/fit/null-covariance';
import {
  countArrangements,
  glsStatistic,
  redrawStatistic,
  type RedrawPlan,
  type RedrawStatistic,
} from '../stats/redraw';
import { drawPrepared, prepareTier } from '../trial/constraint/prepared';
import { drawnSite } from '../trial/drawn-from';
import { schemeShuffles, type Site, type Tier } from '../trial/site';
import type { Findings } from './findings';
import { obstacleOf } from './obstacle';
import { questionOf } from './asked';
import { scaleOf, type FindingsInput, type ResponseIndex } from './question';
import { designModel, requestFor } from './request';
import { distinct, factorRoles, unitColumn } from './roles';
import { countRedraws, LISTED, listAll, type RedrawFound } from './redrawCount';
import { isCounts } from './scale';
import { trialTable } from './table';
import { analysedOf } from './unitMeans';
import { termOf } from './terms';
import { chosenShare, list, said, saidP } from '../../words';

/** With light as it was at the draw, trays where they were drawn: what blocks and balance rest on. */
export type RedrawInput = FindingsInput &
  Required<Pick<FindingsInput, 'ppfdAtDraw' | 'startByPot'>>;

export interface RedrawAsked {
  measurementId: string | null;
  index: ResponseIndex | null;
  /** Factors of the term, by id: one for a main effect, more for an interaction. */
  factorIds: readonly string[];
  runs: number;
  seed: string;
}

/**
 * Randomisation test of one term: the layout is drawn anew with its own scheme and constraint, the
 * records stay with their pots, and the statistic is compared with the one that the real layout
 * gives: F by least squares, coarser units and blocks fixed, of the means where counts are averaged per
 * unit and whole units move; by generalised least squares where the
 * plan allows for a smooth surface or the likeness of neighbours and pots were drawn. Only the finest factor of the term,
 * with those drawn together with it, moves; the rest stays as it was drawn.
 *
 * Throws with a sentence where this cannot be done: a given factor, a layout that no longer matches
 * its plan, too few pots.
 */
export function redrawTest(
  input: RedrawInput,
  asked: RedrawAsked,
  tell: (done: number, total: number) => void = () => undefined,
): RedrawFound {
  const { site, tier, plan, statistic, term, pots } = prepare(input, asked);
  const moved = tier.factors.map((factor) => factor.name);
  const base = { term, moved, unit: tier.unit };
  if (listable(site, tier, plan)) {
    const all = listAll(plan, statistic, tell);
    return { ...base, ...all, method: `${all.method}${pots}` };
  }
  const prepared = prepareTier(site, tier);
  const counted = countRedraws(
    plan,
    statistic,
    asked.runs,
    tell,
    (run) => drawPrepared(site, prepared, `${asked.seed} ${run}`).treatmentOf,
  );
  const { constraint } = site.trial;
  const bounds = [
    ...(constraint.acceptanceShare < 1 && constraint.balance.length > 0
      ? [`the same balance (the best ${chosenShare(constraint.acceptanceShare)} of draws)`]
      : []),
    ...(constraint.likeNeighbours !== null ? ['the same cap on like neighbours'] : []),
  ];
  const method =
    `The layout was drawn anew ${asked.runs} times by its own scheme` +
    (bounds.length > 0 ? `, under ${list(bounds)}.` : '.') +
    pots;
  return { ...base, ...counted, method };
}

interface Prepared {
  site: Site;
  tier: Tier;
  plan: RedrawPlan;
  statistic: RedrawStatistic;
  term: string;
  /** That the statistic is not of what the model takes, as a sentence; empty where it is. */
  pots: string;
}

function prepare(input: RedrawInput, asked: RedrawAsked): Prepared {
  const { trial, layout } = input;
  const question = questionOf(trial, asked.measurementId, asked.index ?? undefined);
  if (!layout || !question) {
    throw new Error('A redraw needs a drawn layout and a measurement; the plan lacks one of them.');
  }
  const obstacle = obstacleOf(trial, question, input.records);
  if (obstacle) throw new Error(obstacle.text);
  const site = drawnSite({ ...input, ppfdByPot: input.ppfdAtDraw }, layout);
  if (!site) {
    throw new Error(
      'The plan has changed since the layout was drawn, so the draw cannot be repeated as it was.',
    );
  }
  const table = trialTable(input, question);
  const roles = factorRoles(table, trial.factors);
  const ofPots = { data: table, design: designModel(table, roles), scale: scaleOf(question) };
  const wanted = ofPots.design.tested.filter((role) => asked.factorIds.includes(role.factor.id));
  if (wanted.length !== asked.factorIds.length || wanted.length === 0) {
    throw new Error('Only factors that the design can test can be redrawn.');
  }
  const tier = [...site.tiers]
    .reverse()
    .find((t) => t.factors.some((factor) => asked.factorIds.includes(factor.id)));
  if (!tier) {
    throw new Error(
      `${list(wanted.map((role) => role.factor.name))}: nobody drew which unit has which level, so there is nothing to draw anew.`,
    );
  }
  const term = wanted.map((role) => role.column).join(' × ');
  // Means are of pots treated alike in their unit, so they stay what they are only while pots stay.
  const onMeans = tier.unit !== 'pot';
  const { data, design, scale } = onMeans ? analysedOf(table, roles, ofPots.scale) : ofPots;
  // Place within units says nothing about what was drawn over them; counts are taken without it.
  const planned = trial.primaryPosition;
  const placed =
    tier.unit === 'pot' && (planned === 'smooth' || planned === 'ar1') && !isCounts(scale);
  // Least squares of the square roots stand in for counts: any statistic keeps the test valid.
  const bare = requestFor(design, placed ? planned : 'none', {
    confidence: 0.95,
    edgeVaries: distinct(data, 'place').length > 1,
    scale: isCounts(scale) ? 'sqrt' : scale,
  });
  // Units coarser than the ones that move are what their shuffling stays within.
  const column = unitColumn(tier.unit);
  const within = design.randomUnits.filter((unit) => !unit.includes(column));
  const request: FitRequest = {
    ...bare,
    fixedBlocks: [...bare.fixedBlocks, ...(tier.unit === 'pot' ? within.flat() : [])],
    randomUnits: [],
    tests: 'marginal',
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  };
  const laid = buildDesign(request, data.table);
  const columns = tier.factors.map((factor) => data.factorColumns.get(factor.id) ?? factor.name);
  const plan = planOf(
    site,
    tier,
    laid,
    columns,
    data.pots.map((pot) => pot.id),
    layout,
    term,
  );
  const statistic = placed
    ? glsStatistic(laid, plan, 'marginal', nullCovariance(request, data.table))
    : redrawStatistic(laid, plan, 'marginal');
  const pots =
    onMeans || analysedOf(table, roles, ofPots.scale).averaged === null ? '' : POTS_OF_COUNTS;
  return { site, tier, plan, statistic, term, pots };
}

/** Pots that move would change what is averaged. */
export const POTS_OF_COUNTS =
  ' Pots were moved, so F is that of the square roots of their counts, not of the means.';

/** The tier's units and labels as the statistic takes them; units without a record have no rows. */
function planOf(
  site: Site,
  tier: Tier,
  design: Design,
  columns: readonly string[],
  potIds: readonly string[],
  layout: Layout,
  term: string,
): RedrawPlan {
  const termAt = design.terms.findIndex(
    (t) => [...t.factors].sort().join(' × ') === term.split(' × ').sort().join(' × '),
  );
  if (termAt < 0) throw new Error(`${term} is not in the model that these records allow.`);
  const numberOf = new Map(site.pots.map((pot, i) => [pot.id, i]));
  const unitRows: number[][] = Array.from({ length: tier.units.count }, () => []);
  design.rowIndex.forEach((row, i) => {
    const pot = numberOf.get(potIds[row] ?? '');
    if (pot === undefined) return;
    unitRows[tier.units.classOf[pot] ?? 0]?.push(i);
  });
  const levelOf = (factor: Tier['factors'][number], column: string, levelId: string): number => {
    const name = factor.levels.find((level) => level.id === levelId)?.name ?? '';
    const at = design.factors.get(column)?.levels.indexOf(name) ?? -1;
    if (at < 0) throw new Error(`No pot with ${factor.name} ${name} has a record.`);
    return at;
  };
  const labels = tier.combinations.map((combination) =>
    tier.factors.map((factor, k) =>
      levelOf(factor, columns[k] ?? '', combination.levels[factor.id] ?? ''),
    ),
  );
  const assigned = new Map(layout.assignments.map((a) => [a.potId, a.levels]));
  const observed = new Int32Array(tier.units.count);
  site.pots.forEach((pot, i) => {
    const levels = assigned.get(pot.id);
    const at = tier.combinations.findIndex((combination) =>
      tier.factors.every((factor) => combination.levels[factor.id] === levels?.[factor.id]),
    );
    if (at < 0) throw new Error(`${pot.code} has no treatment in the layout.`);
    observed[tier.units.classOf[i] ?? 0] = at;
  });
  return {
    term: termAt,
    moved: columns,
    labels,
    unitRows: unitRows.map((rows) => Int32Array.from(rows)),
    groups: tier.groups.map((group) => Int32Array.from(group.units)),
    observed,
  };
}

/** Whether every layout is one free shuffle of the labels within groups, and they are few. */
function listable(site: Site, tier: Tier, plan: RedrawPlan): boolean {
  const { scheme, constraint } = site.trial;
  const free =
    (constraint.acceptanceShare >= 1 || constraint.balance.length === 0) &&
    constraint.likeNeighbours === null;
  const shuffled = schemeShuffles(scheme);
  const whole = tier.groups.every((g) => g.units.length % tier.pack.length === 0);
  return free && shuffled && whole && countArrangements(plan) <= LISTED;
}

/** p of the model that answers for what was redrawn; null where it has none. */
export function modelPOf({ primary }: Findings, { term }: RedrawFound): number | null {
  return termOf(primary.result, term.split(' × '))?.p ?? null;
}

/** The result of a redraw in words, with its figures, beside the p of the model that answers. */
export function redrawSentence(
  found: RedrawFound,
  alpha: number,
  modelP: number | null = null,
): string {
  const share = found.exact
    ? `${found.asExtreme} of all ${found.runs} possible layouts`
    : `${found.asExtreme} of ${found.runs} redrawn layouts`;
  const { p } = found;
  const drawn = found.moved.length > 1 ? ` The labels of ${list(found.moved)} moved together.` : '';
  const verdict =
    p < alpha
      ? `which the draw alone would seldom give (${saidP(p, alpha)})`
      : `so that the draw alone may have given it (${saidP(p, alpha)}); that is no proof that ${found.term} does nothing`;
  return (
    `${found.method} ${share} give ${found.term} an F as large as the ${said(found.observed)} of the real one, ${verdict}.` +
    `${drawn}${fewestWords(found, alpha)}${besideModel(found, alpha, modelP)}`
  );
}

/** The least p that the design's draw can give, where every layout was listed. */
function fewestWords({ exact, leastP, runs }: RedrawFound, alpha: number): string {
  if (!exact) return '';
  const fewest = ` ${Math.round(leastP * runs)} of ${runs} possible layouts is the fewest that this design can give (${saidP(leastP, alpha)})`;
  return leastP < alpha ? `${fewest}.` : `${fewest}, so that a redraw can never show a difference.`;
}

function besideModel(found: RedrawFound, alpha: number, modelP: number | null): string {
  if (modelP === null) return '';
  const model = saidP(modelP, alpha);
  const shown = found.p < alpha;
  if (modelP < alpha === shown) {
    return ` The model that answers agrees: a difference is ${shown ? '' : 'not '}shown (${model}).`;
  }
  const differ = ` The model that answers disagrees: a difference is ${shown ? 'not ' : ''}shown (${model}).`;
  if (!shown && found.leastP >= alpha)
    return `${differ} Too few layouts are possible to bear it out.`;
  return `${differ} It rests on normal errors and on the planned allowance for position, the redraw on the draw alone.`;
}
