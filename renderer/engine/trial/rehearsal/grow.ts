import { ONCE, type Runs } from '../input';
import type { PreparedDraw } from '../draw/preparedDraw';
import type { Site } from '../site/site';
import { stream } from '../stream';
import { add, real, whole } from '../../entry';
import { harvester, trueShift, type Harvest, type HarvestModel, type TrueEffects } from './harvest';
import { levelNumbers, type LevelNumbers } from './levels';

/** One trial drawn and grown, over the measured pots; of several runs, one run's pots after another's. */
export interface GrownTrial {
  levels: LevelNumbers;
  harvest: Harvest;
}

interface Growing {
  model: HarvestModel;
  effects: TrueEffects;
  seed: string;
  grown?: Runs | undefined;
}

/** Draws and grows the trial of any number; all runs of it, where it is grown several times. */
export function grower(prepared: PreparedDraw, asked: Growing): (number: number) => GrownTrial {
  const { model, effects, seed, grown = ONCE } = asked;
  const { site, draw } = prepared;
  const harvest = harvester(site, model);
  const once = (levels: LevelNumbers, name: string): GrownTrial => ({
    levels,
    harvest: harvest(trueShift(site, levels, effects), stream(seed, name)),
  });
  const drawnAs = (name: string) => levelNumbers(site, draw(`${seed}, layout ${name}`));
  if (grown.count < 2) return (number) => once(drawnAs(`${number}`), `harvest ${number}`);
  return (number) => {
    const first = drawnAs(`${number}`);
    const stays = worthOnRack(site, model, `${seed}, rack ${number}`);
    const between = stream(seed, `runs ${number}`);
    const runs = Array.from({ length: grown.count }, (_, k): GrownTrial => {
      const name = k === 0 ? `${number}` : `${number}, run ${k + 1}`;
      const own = k === 0 ? first : drawnAs(name);
      const levels = grown.swapped === null ? own : swapped(site, first, own, grown.swapped, k);
      const one = once(levels, `harvest ${name}`);
      // Runs differ as much as plants do, at least: it is taken out of every comparison.
      const ofRun = Math.max(model.shelfSd, model.plantSd) * between.normal();
      for (const values of [one.harvest.untreated, one.harvest.treated]) {
        for (let i = 0; i < values.length; i++) add(values, i, ofRun + real(stays, i));
      }
      return one;
    });
    return joined(runs);
  };
}

/** What each shelf and tray is worth in every run, beside what it is worth in one. */
function worthOnRack({ pots, unitOf }: Site, model: HarvestModel, seed: string): Float64Array {
  const chance = stream(seed, 'worth');
  const of = (count: number, sd: number) =>
    Float64Array.from({ length: count }, () => sd * chance.normal());
  const shelf = of(unitOf.shelf.count, model.shelfSd);
  const tray = of(unitOf.tray.count, model.traySd);
  return Float64Array.from(
    pots,
    (_, i) =>
      real(shelf, whole(unitOf.shelf.classOf, i)) + real(tray, whole(unitOf.tray.classOf, i)),
  );
}

/** The levels of a later run: on the swapped factor's units those of the first, moved on by so many. */
function swapped(
  { trial }: Site,
  first: LevelNumbers,
  own: LevelNumbers,
  factorId: string,
  step: number,
): LevelNumbers {
  const moving = trial.factors.find(({ id }) => id === factorId);
  return new Map(
    trial.factors.map(({ id, unit, levels }) => {
      const bound = unit === moving?.unit;
      const numbers = (bound ? first : own).get(id) ?? new Int32Array(0);
      const count = levels.length;
      return [
        id,
        id === factorId
          ? numbers.map((level) => (level < 0 ? level : (level + step) % count))
          : numbers,
      ];
    }),
  );
}

function joined(runs: readonly GrownTrial[]): GrownTrial {
  const ids = [...(runs[0]?.levels.keys() ?? [])];
  const reals = (of: (harvest: Harvest) => Float64Array) =>
    Float64Array.from(runs.flatMap(({ harvest }) => [...of(harvest)]));
  return {
    levels: new Map(
      ids.map((id) => [
        id,
        Int32Array.from(runs.flatMap(({ levels }) => [...(levels.get(id) ?? [])])),
      ]),
    ),
    harvest: {
      untreated: reals(({ untreated }) => untreated),
      treated: reals(({ treated }) => treated),
      alive: Uint8Array.from(runs.flatMap(({ harvest }) => [...harvest.alive])),
      start: reals(({ start }) => start),
    },
  };
}
