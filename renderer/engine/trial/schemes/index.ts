import { schemeTraits, type Scheme } from '../../../../shared-types/trial/scheme';
import { entry, num, whole } from '../../entry';
import type { Tier } from '../site/site';
import { shuffle, stream } from '../stream';
import type { Stream } from '../stream';
import { unitGridOf } from './grid';
import type { UnitGrid } from './grid';
import { incompleteDesign, randomisedDesign } from './incomplete';
import { latinSquares, listedSquares } from './latin';
import type { Square } from './latin';
import { evenPortions } from './portions';
import { evenGrids, walkApart } from './rowColumn';
import type { TreatmentGrid } from './rowColumn';
import { Refusal } from '../../../words';

/**
 * Draws one group of a tier after the other, as often as wanted. Every group has a stream of its
 * own, so the n-th draw of a group is the same whatever else the rack holds.
 */
export interface TierDrawer {
  /** Whether treatments are laid along rows and columns, so that units can't be exchanged. */
  onGrid: boolean;
  /** Draws group `g` anew and writes the treatment of each of its units into `treatmentOf`. */
  drawGroup(g: number, treatmentOf: Int32Array): void;
  /**
   * Rearranges group `g`, just drawn, within its scheme until there is no `excess`; false where that
   * was not reached. Missing where a scheme knows no such way.
   */
  separate?(g: number, treatmentOf: Int32Array, excess: () => number): boolean;
}

export function tierDrawer(scheme: Scheme, tier: Tier, seed: string): TierDrawer {
  const streams = tier.groups.map((group) => stream(seed, group.key));
  const leftOver = () => stream(seed, `left over|${tier.unit}`);
  const { draw } = schemeTraits[scheme];
  switch (draw) {
    case 'squares':
      return squareDrawer(tier, streams);
    case 'lines':
      return lineDrawer(tier, streams);
    case 'shares':
      return portionDrawer(tier, streams, evenPortions(tier, leftOver()));
    case 'design':
      return portionDrawer(tier, streams, incompletePortions(tier, leftOver()));
    default:
      return draw satisfies never;
  }
}

function gridsOf(tier: Tier): UnitGrid[] {
  return tier.groups.map((group) => {
    const grid = unitGridOf(tier, group);
    if (!grid) throw new Refusal(`${group.key}: no rectangle of rows and columns was found`);
    return grid;
  });
}

/** Latin squares side by side on each group's grid. */
function squareDrawer(tier: Tier, streams: readonly Stream[]): TierDrawer {
  const grids = gridsOf(tier);
  const { fullSet } = tier;
  const listed = listedSquares(fullSet.length);
  const squares = streams.map((random) => latinSquares(fullSet.length, random, listed));
  return {
    onGrid: true,
    drawGroup(g, treatmentOf) {
      latinTiles(entry(grids, g), fullSet, entry(squares, g), treatmentOf);
    },
  };
}

/** Each treatment as evenly as can be over the rows and columns of each group's grid. */
function lineDrawer(tier: Tier, streams: readonly Stream[]): TierDrawer {
  const grids = gridsOf(tier);
  const { fullSet } = tier;
  const draws = grids.map(({ rows, columns }, g) =>
    evenGrids(rows, columns, fullSet.length, entry(streams, g)),
  );
  const drawn: TreatmentGrid[] = [];
  const write = (g: number, treatmentOf: Int32Array): void => {
    const units = entry(grids, g).units.flat();
    entry(drawn, g).cells.forEach((card, i) => (treatmentOf[num(units, i)] = whole(fullSet, card)));
  };
  return {
    onGrid: true,
    drawGroup(g, treatmentOf) {
      drawn[g] = entry(draws, g)();
      write(g, treatmentOf);
    },
    separate(g, treatmentOf, excess) {
      const told = (): number => {
        write(g, treatmentOf);
        return excess();
      };
      const found = walkApart(entry(drawn, g), told, entry(streams, g));
      write(g, treatmentOf);
      return found;
    },
  };
}

/** The treatments that each group is to hold, shuffled among its units. */
function portionDrawer(
  tier: Tier,
  streams: readonly Stream[],
  portions: readonly Int32Array[],
): TierDrawer {
  return {
    onGrid: false,
    drawGroup(g, treatmentOf) {
      const { units } = entry(tier.groups, g);
      const portion = entry(portions, g);
      shuffle(portion, entry(streams, g));
      for (let i = 0; i < units.length; i++) treatmentOf[num(units, i)] = whole(portion, i);
    },
  };
}

function incompletePortions(tier: Tier, random: Stream): Int32Array[] {
  const { fullSet } = tier;
  const times = tier.combinations.map((combination) => combination.times);
  const full = fullSet.length;
  const sizes = tier.groups.map((group) => group.units.length);
  // A block that could hold more than one full set gets the sets and a remainder.
  const remainders = sizes.map((size) => size % full);
  const partial = remainders.filter((size) => size > 0);
  // A single place has no pair; more places than treatments hold one of them twice.
  if (partial.some((size) => size === 1 || size > times.length)) return evenPortions(tier, random);
  const design = randomisedDesign(incompleteDesign(times, partial), times, random);
  let next = 0;
  return sizes.map((size, g) => {
    const whole = size - (remainders[g] ?? 0);
    const rest = whole === size ? [] : (design[next++] ?? []);
    return Int32Array.from([
      ...Array.from({ length: whole }, (_, i) => fullSet[i % full] ?? 0),
      ...rest,
    ]);
  });
}

/** Independent squares side by side where the grid holds several. */
function latinTiles(
  grid: UnitGrid,
  fullSet: Int32Array,
  next: () => Square,
  treatmentOf: Int32Array,
): void {
  const t = fullSet.length;
  for (let top = 0; top < grid.rows; top += t) {
    for (let left = 0; left < grid.columns; left += t) {
      next().forEach((line, r) =>
        line.forEach((card, c) => {
          treatmentOf[grid.units[top + r]?.[left + c] ?? 0] = fullSet[card] ?? 0;
        }),
      );
    }
  }
}
