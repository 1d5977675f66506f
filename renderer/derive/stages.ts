import type { Notice, Severity, Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { noticesOf } from './notices';
import { potsOf } from './trial/trial';

export interface StageState {
  state: 'empty' | 'progress' | 'complete';
  /** Worst open notice of the stage; notes do not count. */
  worst: Severity | null;
}

/** How far each stage of the job has come. */
export function stageStates(
  plan: Plan,
  notices: readonly Notice[] = noticesOf(plan),
): Record<Stage, StageState> {
  const states = progress(plan);
  // An accepted notice is no answer either.
  if (states.findings === 'complete' && notices.some((n) => n.kind === 'question-not-answerable')) {
    states.findings = 'progress';
  }
  const worstOf = (stage: Stage): Severity | null => {
    const open = notices.filter((n) => n.stage === stage && n.accepted === undefined);
    if (open.some((n) => n.severity === 'stop')) return 'stop';
    return open.some((n) => n.severity === 'warn') ? 'warn' : null;
  };
  const entry = (stage: Stage): StageState => ({ state: states[stage], worst: worstOf(stage) });
  return {
    rack: entry('rack'),
    light: entry('light'),
    flood: entry('flood'),
    trial: entry('trial'),
    layout: entry('layout'),
    chart: entry('chart'),
    records: entry('records'),
    findings: entry('findings'),
  };
}

function progress(plan: Plan): Record<Stage, StageState['state']> {
  const { rack, trial, layout, records } = plan;
  const pots = potsOf(plan).filter((pot) => !pot.guard);
  const lamps = rack.shelves.reduce((n, shelf) => n + shelf.lamps.length, 0);
  const lit = rack.shelves.every((shelf) => shelf.trays.length === 0 || shelf.lamps.length > 0);
  const uniformity = trial !== null && trial.factors.length === 0 && trial.measurements.length > 0;
  const harvest = trial?.measurements.filter((m) => m.timepoint === 'harvest') ?? [];
  const recorded = harvest.reduce(
    (n, m) =>
      n +
      pots.filter((pot) => records.values[m.id]?.[pot.id] !== undefined || records.marks[pot.id])
        .length,
    0,
  );
  const wanted = harvest.length * pots.length;
  const begun = Object.values(records.values).some((values) => Object.keys(values).length > 0);
  const ready = layout !== null || uniformity;
  return {
    rack: pots.length > 0 ? 'complete' : rack.shelves.length > 0 ? 'progress' : 'empty',
    light: lamps === 0 ? 'empty' : lit ? 'complete' : 'progress',
    flood: plan.flood ? 'complete' : 'empty',
    trial: !trial ? 'empty' : trial.factors.length > 0 || uniformity ? 'complete' : 'progress',
    layout: !ready ? 'empty' : uniformity || layout?.plantedAt ? 'complete' : 'progress',
    chart: ready ? 'complete' : 'empty',
    records: !begun ? 'empty' : recorded >= wanted && wanted > 0 ? 'complete' : 'progress',
    findings: recorded === 0 || !ready ? 'empty' : recorded >= wanted ? 'complete' : 'progress',
  };
}
