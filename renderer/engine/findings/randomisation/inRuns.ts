import { buildDesign } from '../../stats/design';
import {
  holdOthers,
  randomisationStatistic,
  type RandomisationPlan,
} from '../../stats/randomisation';
import { drawPrepared, prepareTier } from '../../trial/constraint/prepared';
import type { Site, Tier } from '../../trial/site/site';
import type { UnitKind } from '../../../../shared-types/trial/trial';
import { list, Refusal } from '../../../words';
import { isShuffle, rowsReadBy, siteAtDraw } from '../model/allocation';
import { designModel } from '../model/designModel';
import { factorRoles, levelsPresent, unitColumn } from '../model/roles';
import { scaleOf, type FindingsInput, type Question } from '../question';
import { COLUMN } from '../table/columns';
import { trialTable } from '../table/table';
import { bareRequest } from './bare';
import { countLayouts, shuffleLabels, type LayoutsCounted, type RandomisationFound } from './count';
import { planOf } from './plan';

/** One run as it was drawn, with the tier that the factor was drawn in. */
interface DrawnRun {
  site: Site;
  tier: Tier;
  plan: RandomisationPlan;
  seed: string;
}

/**
 * Randomisation test of one factor over several runs together: each run is drawn anew by itself, as it
 * was, and F is that of all of them. Not for counts, whose means are taken over units.
 *
 * Throws with a sentence where a run was not drawn by itself, or no longer can be.
 */
export function randomisationInRuns(
  input: FindingsInput,
  question: Question,
  factorId: string,
  asked: LayoutsCounted,
): RandomisationFound {
  const { all = [input], trial } = input;
  const table = trialTable(input, question);
  const roles = factorRoles(table, trial.factors);
  const design = designModel(table, roles);
  const role = design.tested.find(({ factor }) => factor.id === factorId);
  if (!role)
    throw new Refusal('Only factors that the design can test can be tested by the shuffle.');
  const drawn = all.map((run) => tierOf(run, factorId, role.factor.name));
  const [first] = drawn;
  if (!first) throw new Refusal('No run has values.');
  const { unit } = first.tier;
  const within = design.randomUnits.filter((one) => !one.includes(unitColumn(unit)));
  const options = {
    edgeVaries: levelsPresent(table, COLUMN.edge).length > 1,
    scale: scaleOf(question),
  };
  const request = bareRequest(design, options, unit === 'pot' ? within.flat() : []);
  const laid = buildDesign(request, table.table);
  const runs = drawn.map(({ site, tier, layout, run }): DrawnRun => {
    const columns = columnsOf(tier, table.factorColumns);
    const own = rowsReadBy(table, table.runs ? run : null);
    const plan = planOf(site, tier, laid, columns, own, layout, role.column);
    return { site, tier, plan, seed: layout.seed };
  });
  const whole = joined(runs.map(({ plan }) => plan));
  const statistic = (plan: RandomisationPlan) => randomisationStatistic(laid, plan, 'marginal');
  const columns = columnsOf(first.tier, table.factorColumns);
  const tell = () => undefined;
  const shuffled = runs.every(({ site }) => isShuffle(site));
  const plan = shuffled ? holdOthers(whole, [role.column]) : whole;
  const counted = shuffled
    ? shuffleLabels(plan, statistic(plan), asked, tell)
    : countLayouts(plan, statistic(plan), asked, tell, drawnAnew(runs));
  return {
    term: role.column,
    unit,
    ...counted,
    moved: [...plan.moved],
    answers: false,
    approximate: plan.moved.length > 1 ? 'together' : null,
    method: methodOf(
      unit,
      counted,
      columns.filter((name) => !plan.moved.includes(name)),
    ),
  };
}

function tierOf(run: FindingsInput, factorId: string, name: string) {
  const { layout } = run;
  const called = run.run ?? 'the run';
  const at = siteAtDraw(run);
  if (!at || !layout) {
    throw new Refusal(`${called}: the plan has changed since its draw, which cannot be repeated.`);
  }
  const tier = at.site.tiers.find(({ factors }) => factors.some(({ id }) => id === factorId));
  if (!tier) {
    throw new Refusal(`${called} was not drawn by itself: ${name} follows from another run there.`);
  }
  return { site: at.site, tier, layout, run: at.run };
}

const columnsOf = (tier: Tier, names: ReadonlyMap<string, string>): string[] =>
  tier.factors.map(({ id, name }) => names.get(id) ?? name);

/** The units of all runs side by side; labels are of one trial, so that they are the same in each. */
function joined(plans: readonly RandomisationPlan[]): RandomisationPlan {
  const [first] = plans;
  if (!first) throw new RangeError('no run was given; one or more are expected');
  const labels = JSON.stringify(first.labels);
  if (plans.some((plan) => JSON.stringify(plan.labels) !== labels)) {
    throw new Refusal('The runs were drawn from other treatments; the same ones are expected.');
  }
  let before = 0;
  const groups = plans.flatMap((plan) => {
    const offset = before;
    before += plan.unitRows.length;
    return plan.groups.map((group) => group.map((unit) => unit + offset));
  });
  return {
    ...first,
    groups,
    unitRows: plans.flatMap(({ unitRows }) => [...unitRows]),
    observed: Int32Array.from(plans.flatMap(({ observed }) => [...observed])),
  };
}

/** Each run drawn anew by its own scheme and constraint. */
function drawnAnew(runs: readonly DrawnRun[]): (run: number) => number[] {
  const prepared = runs.map(({ site, tier }) => prepareTier(site, tier));
  return (number) =>
    runs.flatMap(({ site, seed }, i) => {
      const own = prepared[i];
      return own ? [...drawPrepared(site, own, `${seed} ${number}`).treatmentOf] : [];
    });
}

function methodOf(
  unit: UnitKind,
  { runs, exact }: Pick<RandomisationFound, 'runs' | 'exact'>,
  still: readonly string[],
): string {
  const kept = still.length > 0 ? `; the labels of ${list(still)} stayed where they were` : '';
  return exact
    ? `All ${runs} layouts that the draws of the runs could have given together were listed${kept}.`
    : `The labels of every ${unit} were drawn anew ${runs} times, in each run by itself${kept}.`;
}
