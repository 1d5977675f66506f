/** A plant that was harvested: on which day (a number that counts days), and what it had been given. */
export interface DatedPlant {
  day: number;
  level: string;
  /** The experimental unit of the factor that the plant stands in. */
  unit: string;
  block: string;
}

/** How the days of harvest differ between the levels of a factor. */
export type DayLag =
  /** Plants of `late` were taken `days` later on average than those of `early`. */
  | { kind: 'later'; early: string; late: string; days: number }
  /** A level had a day to itself. */
  | { kind: 'alone'; level: string; day: number };

/** Lettuce and basil near harvest gain 5 to 15 % a day: half a day is half of the least worth finding. */
const DAYS_THAT_MATTER = 0.5;
/** Share of the variation in days, adjusted for chance, that levels explain before it is more than that. */
const SHARE_BY_CHANCE = 0.1;

/**
 * Whether days of harvest go with the levels of a factor; null: no more than an even or shuffled order
 * brings about. Where every block holds several levels, days are compared within blocks: a block that
 * is harvested on a day of its own takes nothing from the comparison. The share of variation is adjusted
 * for the number of levels and units, 1 − (1 − η²)(n − 1)/(n − k).
 */
export function dayLag(plants: readonly DatedPlant[]): DayLag | null {
  const levels = groupBy(plants, ({ level }) => level);
  if (levels.size < 2) return null;
  return meanLag(plants) ?? ownDay(levels);
}

/** Whether each block was harvested on one day: then days differ between blocks only. */
export function blockByBlock(plants: readonly Pick<DatedPlant, 'day' | 'block'>[]): boolean {
  const blocks = [...groupBy(plants, ({ block }) => block).values()];
  return blocks.length > 1 && blocks.every((own) => new Set(own.map(({ day }) => day)).size === 1);
}

function meanLag(plants: readonly DatedPlant[]): DayLag | null {
  const units = [...groupBy(withinBlocks(plants), (p) => `${p.level} ${p.unit}`).values()];
  const means = units.map((own) => ({ level: own[0]?.level ?? '', day: meanDay(own) }));
  const byLevel = [...groupBy(means, ({ level }) => level)].map(([level, own]) => ({
    level,
    day: meanDay(own),
    units: own.length,
  }));
  const ordered = byLevel.sort((a, b) => a.day - b.day);
  const [early, late] = [ordered[0], ordered.at(-1)];
  if (!early || !late || late.day - early.day < DAYS_THAT_MATTER) return null;
  const centre = meanDay(means);
  const total = means.reduce((sum, { day }) => sum + (day - centre) ** 2, 0);
  const between = ordered.reduce((sum, own) => sum + own.units * (own.day - centre) ** 2, 0);
  const [n, k] = [means.length, ordered.length];
  const share = n > k ? 1 - ((1 - between / total) * (n - 1)) / (n - k) : 1;
  if (share < SHARE_BY_CHANCE) return null;
  return { kind: 'later', early: early.level, late: late.level, days: late.day - early.day };
}

function withinBlocks(plants: readonly DatedPlant[]): readonly DatedPlant[] {
  const blocks = [...groupBy(plants, ({ block }) => block).values()];
  if (!blocks.every((own) => new Set(own.map(({ level }) => level)).size > 1)) return plants;
  return blocks.flatMap((own) => {
    const centre = meanDay(own);
    return own.map((plant) => ({ ...plant, day: plant.day - centre }));
  });
}

function ownDay(levels: ReadonlyMap<string, readonly DatedPlant[]>): DayLag | null {
  for (const [level, own] of levels) {
    const [day, ...others] = new Set(own.map((plant) => plant.day));
    if (day === undefined || others.length > 0) continue;
    const shared = [...levels].some(
      ([other, theirs]) => other !== level && theirs.some((plant) => plant.day === day),
    );
    if (!shared) return { kind: 'alone', level, day };
  }
  return null;
}

function groupBy<T>(list: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of list) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

const meanDay = (list: readonly { day: number }[]) =>
  list.reduce((sum, { day }) => sum + day, 0) / list.length;
