import type { Trial } from '../../../../shared-types/trial/trial';
import type { Pot } from '../../geometry';
import type { Block } from '../input';
import { partitionBy } from '../site/partition';
import type { Partition } from '../site/partition';
import { combinationsOf, fullSetOf } from '../treatments';
import { num, whole } from '../../entry';

export type StripUnit = 'row-strip' | 'column-strip';

const LINES = {
  'row-strip': { of: 'row', one: 'row', many: 'rows' },
  'column-strip': { of: 'column', one: 'column', many: 'columns' },
} as const;

/** Strips of one block: as many as a full set of the factors on them takes; 1 where there are none. */
export function stripsPerBlock(trial: Pick<Trial, 'factors'>, unit: StripUnit): number {
  const own = trial.factors.filter((f) => f.kind === 'randomised' && f.unit === unit);
  return Math.max(1, fullSetOf(combinationsOf(own)).length);
}

/** The rows (or columns) of measured pots in a block, in rising order. */
export function linesOf(pots: readonly Pot[], unit: StripUnit): number[] {
  const { of } = LINES[unit];
  return [...new Set(pots.map((pot) => pot[of]))].sort((a, b) => a - b);
}

/** The blocks, which of them each pot is in, and their keys by that number. */
interface InBlocks {
  blocks: readonly Block[];
  blockOf: Partition;
  blockKeys: readonly string[];
}

interface Strips {
  partition: Partition;
  names: string[];
}

/** The strips of every block, over the measured pots, with their printed names by strip number. */
export function stripsOver(
  pots: readonly Pot[],
  inBlocks: InBlocks,
  trial: Pick<Trial, 'factors'>,
  unit: StripUnit,
): Strips {
  const { blocks } = inBlocks;
  const count = stripsPerBlock(trial, unit);
  const { of } = LINES[unit];
  // Few trials have strips: elsewhere a block is one, and thousands of pots need no names.
  const apart = new Set(blocks.map(({ name }) => name)).size === blocks.length;
  if (count === 1 && apart) return wholeBlocks(pots, inBlocks, unit);
  const byId = new Map<string, Pot>();
  for (const pot of pots) byId.set(pot.id, pot);
  const nameOf = new Map<string, string>();
  for (const block of blocks) {
    const own = block.potIds.flatMap((id) => byId.get(id) ?? []);
    const lines = linesOf(own, unit);
    const stripOf = lines.map((_line, i) => Math.floor((i * count) / lines.length));
    const names = new Map(
      lines.map((line, i) => {
        const inside = lines.filter((_other, k) => stripOf[k] === stripOf[i]);
        return [line, `${block.name} ${lineWords(unit, num(inside, 0), inside.at(-1))}`];
      }),
    );
    for (const pot of own) nameOf.set(pot.id, names.get(pot[of]) ?? '');
  }
  const partition = partitionBy(pots.map((pot) => nameOf.get(pot.id) ?? ''));
  const names: string[] = [];
  pots.forEach((pot, i) => {
    names[whole(partition.classOf, i)] = nameOf.get(pot.id) ?? '';
  });
  return { partition, names };
}

/** Every block as one strip. */
function wholeBlocks(
  pots: readonly Pot[],
  { blocks, blockOf, blockKeys }: InBlocks,
  unit: StripUnit,
): Strips {
  const { of } = LINES[unit];
  const from = new Int32Array(blockOf.count).fill(0x7fffffff);
  const to = new Int32Array(blockOf.count).fill(-1);
  blockOf.classOf.forEach((block, i) => {
    const line = pots[i]?.[of] ?? 0;
    from[block] = Math.min(whole(from, block), line);
    to[block] = Math.max(whole(to, block), line);
  });
  const nameOf = new Map(blocks.map(({ key, name }) => [key, name]));
  const names = blockKeys.map(
    (key, block) => `${nameOf.get(key) ?? ''} ${lineWords(unit, whole(from, block), to[block])}`,
  );
  return { partition: blockOf, names };
}

/** `row 2`, `rows 1–4`. */
function lineWords(unit: StripUnit, from: number, to = from): string {
  const { one, many } = LINES[unit];
  return from === to ? `${one} ${from}` : `${many} ${from}–${to}`;
}
