import type { Rack } from '../../../shared-types/rack';
import type { Trial } from '../../../shared-types/trial/trial';
import type { BoundBy } from './bound';
import type { Plant } from './plants/plants';
import type { ZoneTrays } from './site/trialPot';
import type { Pot } from '../geometry';
import { Refusal } from '../../words';

/** PPFD (µmol m⁻² s⁻¹) at canopy height by pot id; empty where no light is known. */
export type PpfdByPot = ReadonlyMap<string, number>;

/** How often the trial is grown on its rack. */
export interface Runs {
  count: number;
  /** The factor whose levels move on from unit to unit between the runs; null: none does. */
  swapped: string | null;
}

export const ONCE: Runs = { count: 1, swapped: null };

export interface TrialInput {
  rack: Rack;
  trial: Trial;
  ppfdByPot: PpfdByPot;
  /** What each reservoir floods; a tray that none floods stands for itself. */
  zones: readonly ZoneTrays[];
  /** Starting values of the plants by pot id, as far as they stand and are measured. */
  startByPot?: ReadonlyMap<string, number> | undefined;
  /** What was drawn earlier is looked at with the light that the draw read (`inputAtDraw`). */
  atDraw?: LightAtDraw | undefined;
  /** The draw of another run, which decides what stands on whole units; absent: chance does. */
  bound?: BoundBy | undefined;
  /** How often it is grown; absent: once. What is drawn is one run of it. */
  grown?: Runs | undefined;
  /** The list that plants were given to the pots from, where there is one; only checks read it. */
  listedPlants?: readonly ListedPlant[] | undefined;
}

/** What a layout tells of the light that it was drawn by. */
export interface LightAtDraw {
  /** As `siteOf` gave it to the draw, of every measured pot; null where it was not kept. */
  ppfdByPot: PpfdByPot | null;
  /** Names of the blocks, which tell bands along a light that was not kept. */
  blockByPot: ReadonlyMap<string, string>;
}

/** A plant of the plan's list; a lost one is broken or dead. */
export type ListedPlant = Plant & { lost?: true | undefined };

/** A set of measured pots that the draw treats as alike. */
export interface Block {
  /** Made of permanent ids, so that it stays when other shelves come and go: `s1`, `t2/left`. */
  key: string;
  /** As printed: `Shelf 1`, `Tray 2B`, `Shelf 1 rows 1–2`. */
  name: string;
  potIds: string[];
}

/** PPFD to a hundredth, so that the last digits of a computed light field decide nothing. */
export function lightAt(ppfdByPot: PpfdByPot, pot: Pot): number | null {
  const value = ppfdByPot.get(pot.id);
  if (value === undefined) return null;
  if (!Number.isFinite(value)) {
    throw new Refusal(`pot ${pot.code}: a PPFD of ${value} was found; a finite figure is expected`);
  }
  return Math.round(value * 100) / 100;
}
