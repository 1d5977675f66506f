import type { Assignment, Layout } from '../../../../shared-types/layout';
import type { ListedPlant } from '../input';
import type { TrialInput } from '../input';
import { dealPlants } from './plants';
import { applySwaps } from '../draw/swaps';
import { unlessRefused } from '../../../words';

/** A pot whose plant is not the one that was dealt to it, as a sentence about it. */
export interface PlantDifference {
  potId: string;
  said: string;
}

// Placings to try where exchanges came before or after the plants were given to the pots.
const MOST_SPLITS = 30;

/**
 * Compares the plants that stand in the pots with those that the layout's seed deals to them. Told
 * for certain are a plant in two pots and one that is not on the list. A plant in the wrong pot is
 * told where most others stand as dealt: when most differ, the list itself has changed since, and
 * what was dealt can't be traced. A pot whose plant was lost may hold another of the list.
 */
export function plantDifferences(
  input: TrialInput,
  drawn: readonly Assignment[],
  layout: Layout,
): PlantDifference[] {
  const found = layout.assignments.filter((a) => a.plant !== null);
  if (found.length === 0) return [];
  const list = input.listedPlants;
  const certain = impossible(found, list);
  if (!list || certain.length > 0) return certain;
  const lost = new Set(list.filter((plant) => plant.lost).map((plant) => plant.code));
  const standing = new Map(layout.assignments.map((a) => [a.potId, a.plant] as const));
  let best: PlantDifference[] | null = null;
  for (const dealt of dealings(input, drawn, layout, list)) {
    const taken = new Set(dealt.map((a) => a.plant));
    const differing = dealt.flatMap(({ potId, plant }) => {
      const here = standing.get(potId) ?? null;
      if (here === plant) return [];
      if (plant !== null && lost.has(plant) && (here === null || !taken.has(here))) return [];
      return [{ potId, said: `${plantWords(here)}; the seed deals ${plantWords(plant)}` }];
    });
    if (!best || differing.length < best.length) best = differing;
  }
  return best && best.length <= found.length / 2 ? best : [];
}

const plantWords = (plant: string | null): string =>
  plant === null ? 'no plant' : `plant ${plant}`;

function impossible(
  found: readonly Assignment[],
  list: readonly ListedPlant[] | undefined,
): PlantDifference[] {
  const listed = list ? new Set(list.map((plant) => plant.code)) : null;
  const times = new Map<string, number>();
  for (const { plant } of found) times.set(plant ?? '', (times.get(plant ?? '') ?? 0) + 1);
  return found.flatMap(({ potId, plant }) => {
    const again = times.get(plant ?? '') ?? 0;
    if (again > 1) return [{ potId, said: `${plantWords(plant)}, which stands in ${again} pots` }];
    if (listed && !listed.has(plant ?? '')) {
      return [{ potId, said: `${plantWords(plant)}, which is not on the list of plants` }];
    }
    return [];
  });
}

/** What the seed deals, whichever exchanges came first, with and without plants lost since. */
function dealings(
  { trial }: TrialInput,
  drawn: readonly Assignment[],
  layout: Layout,
  list: readonly ListedPlant[],
): Assignment[][] {
  const { seed, swaps } = layout;
  const here = list.filter((plant) => plant.lost !== true);
  const pools = here.length < list.length ? [here, list] : [list];
  const splits = Math.min(swaps.length, MOST_SPLITS);
  return pools.flatMap((pool) =>
    Array.from({ length: splits + 1 }, (_, before) => before).flatMap((before) => {
      const placed = applySwaps(trial, drawn, swaps.slice(0, before));
      // Refused where too few plants are left to be dealt as they were.
      const dealt = unlessRefused(() => dealPlants(trial, placed, pool, seed));
      return dealt ? [applySwaps(trial, dealt.assignments, swaps.slice(before))] : [];
    }),
  );
}
