import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readPlan, writePlan } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import { everyFeature } from './everyFeature';

// The example plans as the first format had them, and plans with all else that it knew.
const folder = join(import.meta.dirname, 'version1');
const textOf = (name: string) => readFileSync(join(folder, name), 'utf8');
const plans = [
  ...readdirSync(folder).map((name) => [name, textOf(name)] as const),
  ...everyFeature().map(([name, plan]) => [name, JSON.stringify(plan)] as const),
];

function opened(text: string): Plan {
  const read = readPlan(text);
  if (!read.ok) throw new Error(JSON.stringify(read.problem));
  return read.plan;
}

/** The plan with the names that the first format had, in its shape. */
function asBefore(plan: Plan): unknown {
  const { runId, version, ...rest } = plan;
  const text = JSON.stringify(rest)
    .replaceAll('"deadVolumeL":', '"heelL":')
    .replaceAll('"floodDepthMm":', '"crestMm":')
    .replaceAll('"timepoint":', '"moment":')
    .replaceAll('"primaryOutcomeId":', '"primaryMeasurementId":')
    .replaceAll('"analysisLocked":', '"ruleFixed":')
    .replaceAll('"preSpecified":', '"fixed":')
    .replaceAll('"kind":"randomised"', '"kind":"assigned"')
    .replaceAll('"kind":"fixed"', '"kind":"given"');
  return { ...JSON.parse(text), version: 1 };
}

describe('a plan of the first format', () => {
  it.each(plans)('opens with the same content: %s', (_name, text) => {
    const read = readPlan(text);
    expect(read).toMatchObject({ ok: true, migratedFrom: 1 });
    expect(asBefore(opened(text))).toEqual(JSON.parse(text));
  });

  it.each(plans)('is written in the second format and comes back the same: %s', (_name, before) => {
    const plan = opened(before);
    const text = writePlan(plan);
    expect(JSON.parse(text)).toMatchObject({ version: 2, runs: [{ id: 'run0' }] });
    expect(readPlan(text)).toEqual({ ok: true, plan, migratedFrom: null });
  });

  it.each([
    ['trial.factors[0].kind', '"kind": "assigned"', '"kind": "random"'],
    ['trial.measurements[0].moment', '"moment": "start"', '"moment": "early"'],
    ['flood.zones[0].crestMm', '"crestMm": ', '"crestMm": -'],
    ['layout.seed', /"seed": "[^"]+"/, '"seed": 7'],
    ['trial.startDate', /"startDate": "[^"]+"/, '"startDate": "spring"'],
  ])('names a broken place as its own file has it: %s', (place, from, to) => {
    const text = textOf('basil.json');
    const broken = text.replace(from, to);
    expect(broken).not.toBe(text);
    const read = readPlan(broken);
    if (read.ok) throw new Error('it opened');
    const { problem } = read;
    const said = problem.kind === 'migrationFailed' ? problem.reason : JSON.stringify(problem);
    expect(said).toContain(place);
  });
});

describe('dates in a file with runs', () => {
  const file = () => JSON.parse(writePlan(opened(textOf('basil.json'))));
  const problemOf = (raw: unknown) => {
    const read = readPlan(JSON.stringify(raw));
    if (read.ok) throw new Error('it opened');
    return read.problem;
  };

  it('of a measurement that the trial lacks are named, not dropped', () => {
    const raw = file();
    raw.runs[0].measurementDates.m999 = '2026-03-01';
    expect(problemOf(raw)).toMatchObject({ path: 'runs[0].measurementDates.m999' });
  });

  it('without a trial are named, not dropped', () => {
    const raw = file();
    const [run] = raw.runs;
    Object.assign(run, { layout: null, plants: undefined, measurementDates: {} });
    run.records = { values: {}, second: {}, marks: {}, incidents: [] };
    expect(problemOf({ ...raw, trial: null })).toMatchObject({ path: 'runs[0].startDate' });
  });

  it('stands in the way of a file without a run', () => {
    expect(problemOf({ ...file(), runs: [] })).toMatchObject({ path: 'runs' });
  });
});
