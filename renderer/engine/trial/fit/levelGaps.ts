import type { Factor } from '../../../../shared-types/trial/trial';

/** One level of a factor in some measure. */
export interface LevelMean {
  name: string;
  mean: number;
  /** Pots that the measure is known of. */
  pots: number;
}

export interface LevelGap {
  levels: LevelMean[];
  /** Largest less smallest mean. */
  gap: number;
  /** Standard deviation within levels (divisor: pots less levels); 0 where none can be told. */
  sd: number;
}

/**
 * How far the levels of a factor lie apart in what is known of their pots; null where fewer than two
 * levels have as many pots as are asked. `levels` and `values` go by the same pot numbers.
 */
export function levelGap(
  factor: Pick<Factor, 'levels'>,
  levels: readonly (string | null)[],
  values: ArrayLike<number | null>,
  fewestPots = 1,
): LevelGap | null {
  const sums = new Map(factor.levels.map(({ id }) => [id, { pots: 0, sum: 0, squares: 0 }]));
  levels.forEach((level, i) => {
    const value = values[i];
    const own = level === null ? undefined : sums.get(level);
    if (!own || value === null || value === undefined) return;
    own.pots += 1;
    own.sum += value;
    own.squares += value * value;
  });
  const means: LevelMean[] = [];
  let within = 0;
  let pots = 0;
  for (const { id, name } of factor.levels) {
    const own = sums.get(id);
    if (!own || own.pots < fewestPots) continue;
    means.push({ name, mean: own.sum / own.pots, pots: own.pots });
    within += Math.max(0, own.squares - own.sum ** 2 / own.pots);
    pots += own.pots;
  }
  if (means.length < 2) return null;
  const all = means.map(({ mean }) => mean);
  const df = pots - means.length;
  return {
    levels: means,
    gap: Math.max(...all) - Math.min(...all),
    sd: df > 0 ? Math.sqrt(within / df) : 0,
  };
}
