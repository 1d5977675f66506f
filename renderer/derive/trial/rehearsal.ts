import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';
import {
  analysedOf,
  COLUMN,
  designModel,
  levelsPresent,
  factorRoles,
  questionOf,
  rehearsedMeansWords,
  scaleOf,
  type Analysed,
  type Averaged,
  type FactorRole,
  type Question,
  type TrialTable,
  positionWords,
} from '../../engine/findings';
import { lightUnitOf } from '../../engine/trial/lightWithin';
import {
  rehearse,
  rehearsePart,
  type Grown,
  type RehearsedAnalysis,
  type RehearsalReport,
  type RehearsalRequest,
  type RehearsedPart,
  type RunsPart,
  type Tester,
} from '../../engine/trial';
import type { Site } from '../../engine/trial/site/site';
import { wetDepthByPotOf } from '../flood/flood';
import { bareTable, filled, responseIn, type RehearsedInput } from './rehearsedTable';
import { NO_TESTS, PlannedTesters, testerMaker } from './rehearsedTesters';
import { trialInputOf } from './trial';
import { fieldNumber } from '../../words';

/** The trial as it is rehearsed; plain data, fit to be sent to a worker. */
export interface RehearsalInput
  extends Omit<RehearsalRequest, 'onProgress'>, Pick<RehearsedInput, 'wetDepthByPot'> {}

/** What a rehearsal of this plan starts from; null without a trial. */
export function rehearsalInputOf(plan: Plan): RehearsedInput | null {
  const input = trialInputOf(plan);
  return input && { ...input, wetDepthByPot: wetDepthByPotOf(plan) };
}

/** Rehearses the trial with the very analysis that its findings will run. */
export function rehearsePlanned(
  input: RehearsalInput,
  onProgress?: RehearsalRequest['onProgress'],
): RehearsalReport {
  return rehearse({ ...input, onProgress }, (site) => plannedAnalysis(input, site));
}

/** Some of the runs of a rehearsal, to be done beside the others. */
export function rehearsePlannedPart(
  { part, ...input }: RehearsalInput & { part: RunsPart },
  onProgress: RehearsalRequest['onProgress'],
): RehearsedPart {
  return rehearsePart({ ...input, onProgress }, (site) => plannedAnalysis(input, site), part);
}

/** Whether the trial's analysis looks at starting values, so that they are to be made up. */
export function usesStart(trial: Trial): boolean {
  return trial.startCovariate && (questionOf(trial)?.start ?? null) !== null;
}

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
export function plannedAnalysis(input: RehearsedInput, site: Site): RehearsedAnalysis {
  const { trial } = site;
  const asked = questionOf(trial) ?? LATER;
  // What is simulated is the response itself, whichever index it is.
  const question: Question = { ...asked, index: 'final' };
  const base = bareTable(input, site, question);
  const edgeVaries = levelsPresent(base, COLUMN.edge).length > 1;
  const options = { confidence: 1 - trial.alpha, edgeVaries };
  const model = trial.primaryPosition;
  let ofMeans: Averaged | null = null;
  const testerOf = testerMaker(site, base, options);
  const plannedTesters = new PlannedTesters(model, testerOf);
  // Both analyses are of the same plants.
  const grownTables = new WeakMap<Grown['levels'], { table: TrialTable; roles: FactorRole[] }>();
  const tableOf = (grown: Grown) => {
    const known = grownTables.get(grown.levels);
    if (known) return known;
    const table = filled(base, site, grown, null);
    const made = { table, roles: factorRoles(table, trial.factors) };
    grownTables.set(grown.levels, made);
    return made;
  };
  return {
    words: `The analysis of the findings: ${analysisWords(trial, base)}.`,
    planned(grown) {
      const analysed = (response: Float64Array): Analysed => {
        const table = filled(base, site, grown, response);
        return analysedOf(table, factorRoles(table, trial.factors), scaleOf(asked), true);
      };
      const { table, roles } = tableOf(grown);
      const layout = analysedOf(table, roles, scaleOf(asked), true);
      if (layout.design.tested.length === 0) return NO_TESTS;
      const { averaged } = layout;
      if (!averaged) return plannedTesters.of(layout);
      ofMeans ??= averaged;
      const onMeans = <T>(
        response: Float64Array,
        ask: (tester: Tester, of: Float64Array) => T,
      ): T => {
        const own = analysed(response);
        return ask(plannedTesters.of(own), responseIn(own.data));
      };
      return {
        tests: (response) => onMeans(response, (tester, of) => tester.tests(of)),
        finds: (response) => onMeans(response, (tester, of) => tester.finds(of)),
      };
    },
    potsAsUnits(grown) {
      const { table, roles } = tableOf(grown);
      const replicated = roles
        .filter((role) => role.unitsPerLevel.size >= 2)
        .map((role) => ({ ...role, replicated: true }));
      return testerOf({ ...designModel(table, replicated), randomUnits: [] }, table, 'none');
    },
    departures() {
      const scale = scaleOf(asked);
      const words = [
        ...base.unused,
        ...(scale === null
          ? []
          : ['Harvests are made up on the scale of the analysis, not as counts or weights.']),
        ...(ofMeans === null ? [] : [rehearsedMeansWords(ofMeans)]),
      ];
      return { words, placeLeftOut: plannedTesters.placeLeftOut() };
    },
  };
}

function analysisWords(trial: Trial, base: TrialTable): string {
  const parts = [
    'each factor and interaction judged by its own units',
    positionWords({ lightUnit: lightUnitOf(trial.factors) })[trial.primaryPosition],
    ...(base.covariates.includes(COLUMN.start) ? ['the value at the start allowed for'] : []),
    ...(base.covariates.includes(COLUMN.depth) ? ['the depth of water allowed for'] : []),
    `risk of a false alarm ${fieldNumber(trial.alpha)}`,
  ];
  return parts.join(', ');
}
