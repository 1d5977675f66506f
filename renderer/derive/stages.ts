import { noticeLabels } from '../../shared-types/noticeLabels';
import type { Notice, Severity, Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import type { StageStateName } from '../../shared-types/window/stageState';
import { blindedSince } from '../document/queries';
import { list, plural } from '../words';
import type { Pot } from '../engine/geometry';
import { memo } from './memo';
import { noticesOf } from './notices';
import { potsOf } from './trial/trial';

export interface StageState {
  state: StageStateName;
  /** Why, in a few words: `no pots yet`, `216 pots on 3 shelves`, `2 warnings`. */
  why: string;
}

/** What a stage has of its own, whatever is wrong with it. */
interface Progress {
  done: boolean;
  /** Nothing of it was decided: what is wrong with it is that it is not there. */
  begun: boolean;
  why: string;
}

const toDo = (why: string, begun = false): Progress => ({ done: false, begun, why });
const doneWith = (why: string): Progress => ({ done: true, begun: true, why });

/**
 * How each stage of the job stands, and why. A stop that nobody accepted comes first, then warnings and
 * accepted stops, then what is left to do: nothing is fine beside a stop, or before it was decided.
 */
export function stageStates(
  plan: Plan,
  notices: readonly Notice[] = noticesOf(plan),
): Record<Stage, StageState> {
  const progress = progressOf(plan);
  const entry = (stage: Stage): StageState =>
    stateOf(
      progress[stage],
      notices.filter((n) => n.stage === stage),
    );
  const states = {
    rack: entry('rack'),
    light: entry('light'),
    flood: entry('flood'),
    trial: entry('trial'),
    layout: entry('layout'),
    chart: entry('chart'),
    records: entry('records'),
    findings: entry('findings'),
  };
  // Nothing can be shuffled, and nothing printed, by a design that the rack cannot hold.
  const misfit = notices.some(
    (n) => n.kind === 'scheme-does-not-fit' && n.severity === 'stop' && n.accepted === undefined,
  );
  if (misfit && !plan.layout) {
    states.layout = { state: 'stuck', why: 'the trial does not fit the rack' };
  }
  // What is printed of a layout is no better than the layout.
  if (states.chart.state === 'fine') {
    const wrong = notices.filter((n) => n.stage === 'layout' && n.severity !== 'note');
    const { state, why } = stateOf(doneWith(states.chart.why), wrong);
    states.chart = { state: state === 'stuck' ? 'look' : state, why };
  }
  return states;
}

function stateOf({ done, begun, why }: Progress, notices: readonly Notice[]): StageState {
  if (!begun) return { state: 'todo', why };
  const open = (severity: Severity) =>
    notices.filter((n) => n.severity === severity && n.accepted === undefined);
  const stops = open('stop');
  if (stops.length > 0) return { state: 'stuck', why: said(stops, 'stop') };
  const warnings = open('warn');
  if (warnings.length > 0) return { state: 'look', why: said(warnings, 'warning') };
  const accepted = notices.filter((n) => n.severity === 'stop');
  if (accepted.length > 0) return { state: 'look', why: said(accepted, 'accepted stop') };
  // An accepted warning is no answer either.
  const unanswered = notices.find((n) => n.kind === 'question-not-answerable');
  if (unanswered) return { state: 'look', why: noticeLabels[unanswered.kind] };
  return { state: done ? 'fine' : 'todo', why };
}

/** `uneven light`, `3 × uneven light`, `2 warnings`. */
function said(notices: readonly Notice[], word: string): string {
  const kinds = [...new Set(notices.map((n) => n.kind))];
  const [kind] = kinds;
  if (kinds.length !== 1 || !kind) return plural(notices.length, word);
  const count = notices.length > 1 ? `${notices.length} × ` : '';
  return `${word === 'accepted stop' ? 'accepted: ' : ''}${count}${noticeLabels[kind]}`;
}

function progressOf(plan: Plan): Record<Stage, Progress> {
  const harvest = harvestOf(plan);
  return {
    rack: rackProgress(plan),
    light: lightProgress(plan),
    flood: floodProgress(plan),
    trial: trialProgress(plan),
    layout: layoutProgress(plan),
    chart: chartProgress(plan),
    records: recordsProgress(harvest),
    findings: findingsProgress(plan, harvest),
  };
}

function rackProgress(plan: Plan): Progress {
  const { rack } = plan;
  if (rack.shelves.length === 0) return toDo('no shelf yet');
  const trays = rack.shelves.flatMap((shelf) => shelf.trays);
  if (trays.length === 0) return toDo('no tray yet', true);
  const pots = potsOf(plan).length;
  if (pots === 0) return toDo('no pots yet', true);
  const bearing = rack.shelves.filter((shelf) => shelf.trays.length > 0).length;
  return doneWith(`${plural(pots, 'pot')} on ${plural(bearing, 'shelf', 'shelves')}`);
}

function lightProgress({ rack }: Plan): Progress {
  const lamps = rack.shelves.reduce((n, shelf) => n + shelf.lamps.length, 0);
  if (lamps === 0) return toDo('no lamps yet');
  const dark = rack.shelves.filter(({ trays, lamps: over }) => trays.length > 0 && !over.length);
  if (dark.length > 0) {
    const which = list(dark.map(({ number }) => String(number)));
    return toDo(`no lamps over ${dark.length === 1 ? 'shelf' : 'shelves'} ${which}`, true);
  }
  const lit = rack.shelves.filter((shelf) => shelf.lamps.length > 0).length;
  return doneWith(`${plural(lamps, 'lamp')} over ${plural(lit, 'shelf', 'shelves')}`);
}

function floodProgress({ flood, rack }: Plan): Progress {
  if (!flood) return toDo('no flooding planned');
  const flooding = flood.zones.filter(({ trayIds }) => trayIds.length > 0);
  if (flooding.length === 0) return toDo('no tray is flooded yet', true);
  if (flooding.some(({ schedule }) => schedule.length === 0)) {
    return toDo('no hours stated yet', true);
  }
  const flooded = new Set(flooding.flatMap(({ trayIds }) => trayIds));
  const trays = rack.shelves.flatMap((shelf) => shelf.trays);
  const dry = trays.filter(({ id }) => !flooded.has(id)).length;
  if (dry > 0) return toDo(`${plural(dry, 'tray')} not flooded`, true);
  return doneWith(`${plural(trays.length, 'tray')} flooded`);
}

/**
 * Pots that are all treated alike are measured, to learn how much they differ. A trial just begun
 * compares nothing either: the first value tells that it is meant so.
 */
const isUniformity = ({ trial, records }: Plan): boolean =>
  trial?.factors.length === 0 &&
  trial.measurements.some(({ id }) => Object.keys(records.values[id] ?? {}).length > 0);

function trialProgress(plan: Plan): Progress {
  const { trial } = plan;
  if (!trial) return toDo('nothing compared yet');
  if (isUniformity(plan)) return doneWith('nothing compared, all pots alike');
  if (trial.factors.length === 0) return toDo('nothing compared yet', true);
  const single = trial.factors.find(({ levels }) => levels.length < 2);
  if (single) return toDo(`${single.name} has one level`, true);
  if (trial.measurements.length === 0) return toDo('nothing measured yet', true);
  if (trial.primaryOutcomeId === null) return toDo('no main result yet', true);
  const combinations = trial.factors.reduce((n, { levels }) => n * levels.length, 1);
  return doneWith(
    trial.factors.length === 1
      ? plural(combinations, 'level')
      : plural(combinations, 'combination'),
  );
}

function layoutProgress(plan: Plan): Progress {
  const { layout } = plan;
  if (isUniformity(plan)) return doneWith('nothing to shuffle');
  if (!layout)
    return toDo(plan.trial?.factors.length === 0 ? 'nothing compared yet' : 'not shuffled yet');
  const pots = plural(layout.assignments.length, 'pot');
  if (layout.plantedAt === null) return toDo(`${pots} shuffled, not planted`, true);
  return doneWith(`${pots} planted`);
}

const isReady = (plan: Plan): boolean => plan.layout !== null || isUniformity(plan);

function chartProgress(plan: Plan): Progress {
  if (isReady(plan)) return doneWith('ready to print');
  return toDo(plan.trial?.factors.length === 0 ? 'nothing compared yet' : 'shuffle first');
}

/** Values of the harvest: how many there are of those that are wanted. */
interface Harvest {
  recorded: number;
  wanted: number;
  /** Some value of any time was entered. */
  begun: boolean;
}

const NONE = Object.freeze({});
const unguarded = memo((pots: readonly Pot[]) => pots.filter((pot) => !pot.guard));
// One entry a measurement, and as many again for undo: a key typed into one leaves the others.
const recordedOf = memo(
  (
    values: Readonly<Record<string, number>>,
    marks: Plan['records']['marks'],
    pots: readonly Pot[],
  ) => pots.reduce((n, { id }) => n + (values[id] !== undefined || marks[id] ? 1 : 0), 0),
  40,
);

function harvestOf(plan: Plan): Harvest {
  const { trial, records } = plan;
  const pots = unguarded(potsOf(plan));
  const measured = trial?.measurements.filter((m) => m.timepoint === 'harvest') ?? [];
  const recorded = measured.reduce(
    (n, m) => n + recordedOf(records.values[m.id] ?? NONE, records.marks, pots),
    0,
  );
  return {
    recorded,
    wanted: measured.length * pots.length,
    begun: Object.values(records.values).some((values) => Object.keys(values).length > 0),
  };
}

const partly = ({ recorded, wanted }: Harvest): string => `${recorded} of ${wanted} harvest values`;

function recordsProgress(harvest: Harvest): Progress {
  const { recorded, wanted, begun } = harvest;
  if (wanted === 0) return toDo('nothing to measure yet', begun);
  if (!begun) return toDo('no values yet');
  if (recorded === 0) return toDo('no harvest values yet', true);
  return recorded < wanted ? toDo(partly(harvest), true) : doneWith(`all ${wanted} harvest values`);
}

function findingsProgress(plan: Plan, harvest: Harvest): Progress {
  const { recorded, wanted } = harvest;
  if (recorded === 0) return toDo('no harvest values yet');
  if (!isReady(plan)) return toDo('no layout to judge by');
  if (blindedSince(plan) !== null) return toDo('waits while blinded');
  return recorded < wanted ? toDo(partly(harvest), true) : doneWith('ready to read');
}
