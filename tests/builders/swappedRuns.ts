import type { FindingsInput } from '../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../renderer/engine/trial';
import { stream } from '../../renderer/engine/trial/stream';
import type { Trial } from '../../shared-types/trial/trial';
import type { PositionModel } from '../../shared-types/trial/position';
import { drawn, factorOf, rackOf, trialOf, harvestWeight } from './trialInput';

const measurement = harvestWeight({ name: 'weight' });

export interface SwappedShape {
  shelves: number;
  runs: number;
  /** Levels of the light, which is swapped; 2 without. */
  lights?: number;
  model?: PositionModel;
}

/** A tray of 3 × 4 pots on each shelf: light on shelves, swapped between the runs; media on pots. */
export function swappedInputs(shape: SwappedShape, seed: string): FindingsInput[] {
  const { shelves, runs, lights = 2, model = 'none' } = shape;
  const rack = rackOf({ shelves, traysPerShelf: 1, rows: 3, columns: 4 });
  const light = factorOf(1, 'shelf', lights, { name: 'lamps', appliedThrough: 'light' });
  const medium = factorOf(2, 'pot', 3, { name: 'medium', appliedThrough: 'medium' });
  const trial: Trial = trialOf([light, medium], {
    startDate: '2026-03-02',
    harvestDate: '2026-03-30',
    primaryOutcomeId: 'm1',
    scheme: 'split-plot',
    primaryPosition: model,
    measurements: [measurement],
  });
  const inputs: FindingsInput[] = [];
  for (let k = 0; k < runs; k++) {
    const first = inputs[0]?.layout;
    const swap = { fromRun: 'run0', factorId: 'f1', step: k % lights };
    const bound = first ? { swap, assignments: first.assignments } : undefined;
    const input = { rack, trial, zones: [], ppfdByPot: new Map<string, number>() };
    const { layout } = drawLayout({ ...input, bound, seed: `${seed} ${k + 1}`, ...drawn });
    inputs.push({
      ...input,
      ...(bound ? { bound } : {}),
      run: `Run ${k + 1}`,
      layout,
      blockByPot: new Map(),
      records: { values: {}, second: {}, marks: {}, incidents: [] },
    });
  }
  return inputs;
}

export interface HarvestOfRuns {
  /** Standard deviations between runs, between shelves in every run, and between shelves in one. */
  run: number;
  shelf: number;
  shelfInRun: number;
  plant: number;
  /** What the second light adds to the first; the third adds it once more. */
  light: number;
  medium: number;
  deadShare: number;
}

/** The runs with values made up for each pot, all taken together. */
export function harvested(
  inputs: readonly FindingsInput[],
  truth: HarvestOfRuns,
  seed: string,
): FindingsInput {
  const chance = stream(seed, 'harvest');
  const shelfWorth = new Map<string, number>();
  const worth = (key: string, sd: number): number => {
    const known = shelfWorth.get(key) ?? sd * chance.normal();
    shelfWorth.set(key, known);
    return known;
  };
  const level = (id: string | undefined) => Number(id?.at(-1) ?? 1) - 1;
  const all = inputs.map((input): FindingsInput => {
    const given = new Map(input.layout?.assignments.map(({ potId, levels }) => [potId, levels]));
    const values: Record<string, number> = {};
    for (const { id, shelfId } of measuredPots(input.rack)) {
      const levels = given.get(id);
      const value =
        60 +
        worth(`${input.run}`, truth.run) +
        worth(shelfId, truth.shelf) +
        worth(`${input.run} ${shelfId}`, truth.shelfInRun) +
        truth.light * level(levels?.['f1']) +
        truth.medium * level(levels?.['f2']) +
        truth.plant * chance.normal();
      if (chance.fraction() >= truth.deadShare) values[id] = value;
    }
    return { ...input, records: { ...input.records, values: { m1: values } } };
  });
  const own = all.at(-1);
  if (!own) throw new Error('no runs; one at least is expected');
  return { ...own, all };
}
