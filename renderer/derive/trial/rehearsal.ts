import type { Plan } from '../../../shared-types/plan';
import { positionTakes, type PositionModel, type Trial } from '../../../shared-types/trial';
import {
  analysedOf,
  COLUMN,
  designModel,
  levelsPresent,
  factorRoles,
  fitTests,
  hasCovariance,
  layoutsForRehearsal,
  levelsOf,
  questionOf,
  refuseFlatLight,
  refusePlaceOfMeans,
  rehearsedMeansWords,
  requestFor,
  scaleOf,
  siteAllocation,
  trialTable,
  type Analysed,
  type Asked,
  type Averaged,
  type DesignModel,
  type Question,
  type TrialTable,
  positionWords,
} from '../../engine/findings';
import { lightUnitOf } from '../../engine/trial/lightWithin';
import { coarseUntreated, type UntreatedBy } from '../../engine/stats/fit';
import type { Allocation } from '../../engine/stats/randomisation';
import {
  assignmentsOf,
  rehearse,
  type RehearsedAnalysis,
  type Grown,
  type RehearsalReport,
  type RehearsalRequest,
  type Tester,
  type TrialInput,
} from '../../engine/trial';
import type { Site } from '../../engine/trial/site';
import { wetDepthByPotOf } from '../flood/flood';
import { trialInputOf } from './trial';
import { reasonOf } from '../../words';

/** The trial as it is rehearsed; plain data, fit to be sent to a worker. */
export interface RehearsalInput extends Omit<RehearsalRequest, 'onProgress' | 'isCancelled'> {
  wetDepthByPot: ReadonlyMap<string, number>;
}

/** What a rehearsal of this plan starts from; null without a trial. */
export function rehearsalInputOf(
  plan: Plan,
): (TrialInput & Pick<RehearsalInput, 'wetDepthByPot'>) | null {
  const input = trialInputOf(plan);
  return input && { ...input, wetDepthByPot: wetDepthByPotOf(plan) };
}

/** Rehearses the trial with the very analysis that its findings will run. */
export function rehearsePlanned(
  input: RehearsalInput,
  hooks: Pick<RehearsalRequest, 'onProgress' | 'isCancelled'> = {},
): RehearsalReport {
  return rehearse({ ...input, ...hooks }, (site) => plannedAnalysis(input, site));
}

/** Whether the trial's analysis looks at starting values, so that they are to be made up. */
export function usesStart(trial: Trial): boolean {
  return trial.startCovariate && (questionOf(trial)?.start ?? null) !== null;
}

const NO_TESTS: Tester = { tests: () => [], finds: () => [] };

const LATER: Question = {
  measurement: {
    id: 'm0',
    name: 'harvest',
    kind: 'weight',
    unit: '',
    decimals: 1,
    timepoint: 'harvest',
    date: null,
    lowest: null,
    highest: null,
  },
  start: null,
  index: 'final',
  days: null,
};

/**
 * The F tests of the findings on made-up harvests: the same table, roles, design and request, with
 * the means and comparisons left out that a test does not need.
 */
export function plannedAnalysis(
  input: TrialInput & Pick<RehearsalInput, 'wetDepthByPot'>,
  site: Site,
): RehearsedAnalysis {
  const { trial } = site;
  const asked = questionOf(trial) ?? LATER;
  // What is simulated is the response itself, whichever index it is.
  const question: Question = { ...asked, index: 'final' };
  const base = bareTable(input, site, question);
  const edgeVaries = levelsPresent(base, COLUMN.edge).length > 1;
  const options = { confidence: 1 - trial.alpha, edgeVaries };
  const model = trial.primaryPosition;
  let fellBack = 0;
  let fits = 0;
  let reason = '';
  let ofMeans: Averaged | null = null;

  const layouts = { runs: layoutsForRehearsal(trial.alpha), seed: 'rehearsal', kept: true };
  // Layouts by the scheme do not depend on the harvest: they are drawn once for all of them.
  const drawn = siteAllocation(site, base, layouts);
  const drawnIn = (data: TrialTable, position: PositionModel): Allocation | null =>
    drawn && hasCovariance(position) ? { ...drawn, levels: levelsOf(data, drawn.factors) } : null;
  // So are the covariances of places, but for who lives: a coarse choice of them is made once.
  const coarse = new Map<string, UntreatedBy | null>();
  const untreatedIn = (design: DesignModel, position: PositionModel): UntreatedBy | null => {
    if (!hasCovariance(position)) return null;
    const key = JSON.stringify(design.randomUnits);
    const found = coarse.get(key);
    if (found !== undefined) return found;
    const made = coarseUntreated(requestFor(design, position, options), base.table);
    coarse.set(key, made);
    return made;
  };
  const testerOf = (design: DesignModel, data: TrialTable, position: PositionModel): Tester =>
    design.tested.length === 0
      ? NO_TESTS
      : testsOf(
          design,
          position,
          { ...options, allocation: drawnIn(data, position) },
          trial.alpha,
          data,
          untreatedIn(design, position),
        );
  /** The planned model, or without position where that cannot be allowed for. */
  const plannedTester = ({ data, design, averaged }: Analysed): Tester => {
    const without = (error: unknown): Tester => {
      if (model === 'none') throw error;
      reason = reasonOf(error);
      fellBack++;
      return testerOf(design, data, 'none');
    };
    let own: Tester | null = null;
    const asked = <T>(ask: (tester: Tester) => T): T => {
      fits++;
      try {
        if (averaged) refusePlaceOfMeans(model, averaged);
        if (positionTakes[model] === 'light') refuseFlatLight(data);
        own ??= testerOf(design, data, model);
        return ask(own);
      } catch (error) {
        return ask(without(error));
      }
    };
    return {
      tests: (response) => asked((tester) => tester.tests(response)),
      finds: (response) => asked((tester) => tester.finds(response)),
    };
  };
  return {
    words: `The analysis of the findings: ${analysisWords(trial, base)}.`,
    planned(grown) {
      const rolesIn = (table: TrialTable) => factorRoles(table, trial.factors);
      const analysed = (response: Float64Array | null): Analysed => {
        const table = filled(base, site, grown, response);
        return analysedOf(table, rolesIn(table), scaleOf(asked), true);
      };
      const layout = analysed(null);
      if (layout.design.tested.length === 0) return NO_TESTS;
      const { averaged } = layout;
      if (!averaged) return plannedTester(layout);
      ofMeans ??= averaged;
      const onMeans = <T>(
        response: Float64Array,
        ask: (tester: Tester, of: Float64Array) => T,
      ): T => {
        const own = analysed(response);
        return ask(plannedTester(own), responseIn(own.data));
      };
      return {
        tests: (response) => onMeans(response, (tester, of) => tester.tests(of)),
        finds: (response) => onMeans(response, (tester, of) => tester.finds(of)),
      };
    },
    potsAsUnits(grown) {
      const data = filled(base, site, grown, null);
      const roles = factorRoles(data, trial.factors)
        .filter((role) => role.unitsPerLevel.size >= 2)
        .map((role) => ({ ...role, replicated: true }));
      return testerOf({ ...designModel(data, roles), randomUnits: [] }, data, 'none');
    },
    departures() {
      const scale = scaleOf(asked);
      return [
        ...base.unused,
        ...(scale === null
          ? []
          : ['Harvests are made up on the scale of the analysis, not as counts or weights.']),
        ...(ofMeans === null ? [] : [rehearsedMeansWords(ofMeans)]),
        ...(fellBack === 0
          ? []
          : [
              `In ${fellBack} of ${fits} harvests the planned correction for place could not be made and was left out, as the findings would do; the last because: ${reason}.`,
            ]),
      ];
    },
  };
}

/** The table of the findings before anything has grown: places, blocks, light, depth of water. */
function bareTable(
  input: Parameters<typeof plannedAnalysis>[0],
  site: Site,
  question: Question,
): TrialTable {
  const assignments = assignmentsOf(site, {
    treatmentOf: site.tiers.map((tier) => new Int32Array(tier.units.count)),
  });
  const byPot = (value: (i: number) => number): Record<string, number> =>
    Object.fromEntries(site.pots.map((pot, i) => [pot.id, value(i)]));
  const values = {
    [question.measurement.id]: byPot(() => 0),
    ...(question.start ? { [question.start.id]: byPot((i) => i) } : {}),
  };
  return trialTable(
    {
      rack: input.rack,
      zones: input.zones,
      trial: site.trial,
      // Only who stands where is read of it.
      layout: {
        scheme: input.trial.scheme,
        seed: 'rehearsal',
        drawnAt: '',
        engineVersion: '',
        drawnFrom: '',
        candidates: 1,
        assignments,
        swaps: [],
        plantedAt: null,
      },
      records: { values, second: {}, marks: {}, incidents: [] },
      ppfdByPot: input.ppfdByPot,
      blockByPot: new Map(),
      wetDepthByPot: input.wetDepthByPot,
    },
    question,
  );
}

/** The table with one harvest in it; without a response, every plant alive has 0. */
function filled(
  base: TrialTable,
  site: Site,
  { alive, start, levels }: Grown,
  response: Float64Array | null,
): TrialTable {
  const columns = { ...base.table.columns };
  columns[COLUMN.start] = Array.from(start);
  columns[COLUMN.response] = Array.from(alive, (lives, i) => (lives ? (response?.[i] ?? 0) : null));
  for (const factor of site.trial.factors) {
    const column = base.factorColumns.get(factor.id) ?? factor.name;
    const own = levels.get(factor.id);
    if (own) columns[column] = Array.from(own, (level) => factor.levels[level]?.name ?? null);
  }
  const leftOut = site.pots.flatMap((pot, i) => (alive[i] ? [] : [{ pot, why: 'dead' as const }]));
  return { ...base, table: { ...base.table, columns }, leftOut };
}

function responseIn({ table }: TrialTable): Float64Array {
  return Float64Array.from(table.columns[COLUMN.response] ?? [], (value) => Number(value ?? NaN));
}

/** The tests of factors and interactions, without the means and comparisons. */
function testsOf(
  design: DesignModel,
  position: PositionModel,
  asked: Asked,
  alpha: number,
  data: TrialTable,
  untreatedBy: UntreatedBy | null,
): Tester {
  const idsOf = termIds(design);
  const { rowIndex, tests } = fitTests(data, design, position, asked, untreatedBy);
  const wanted = tests.flatMap((test) => {
    const factorIds = idsOf.get(test.term);
    return factorIds ? [{ factorIds, test }] : [];
  });
  const rowsOf = (response: Float64Array): Float64Array =>
    Float64Array.from(rowIndex, (row) => response[row] ?? NaN);
  return {
    tests(response) {
      const y = rowsOf(response);
      return wanted.map(({ factorIds, test }) => ({ factorIds, p: test.p(y) }));
    },
    finds(response) {
      const y = rowsOf(response);
      return wanted.map(({ factorIds, test }) => ({ factorIds, found: test.finds(y, alpha) }));
    },
  };
}

/** Factor ids of every main effect and interaction by its name in the fit. */
function termIds({ tested }: DesignModel): ReadonlyMap<string, string[]> {
  let sets: { column: string; id: string }[][] = [[]];
  for (const { column, factor } of tested) {
    sets = [...sets, ...sets.map((set) => [...set, { column, id: factor.id }])];
  }
  return new Map(
    sets
      .slice(1)
      .map((set) => [set.map(({ column }) => column).join(' × '), set.map(({ id }) => id)]),
  );
}

function analysisWords(trial: Trial, base: TrialTable): string {
  const parts = [
    'each factor and interaction judged by its own units',
    positionWords({ lightUnit: lightUnitOf(trial.factors) })[trial.primaryPosition],
    ...(base.covariates.includes(COLUMN.start) ? ['the value at the start allowed for'] : []),
    ...(base.covariates.includes(COLUMN.depth) ? ['the depth of water allowed for'] : []),
    `risk of a false alarm ${trial.alpha}`,
  ];
  return parts.join(', ');
}
