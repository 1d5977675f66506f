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

/** The strips of every block, over the measured pots, with their printed names by strip number. */
export function stripsOver(
  pots: readonly Pot[],
  blocks: readonly Block[],
  trial: Pick<Trial, 'factors'>,
  unit: StripUnit,
): { partition: Partition; names: string[] } {
  const count = stripsPerBlock(trial, unit);
  const { of, one, many } = LINES[unit];
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
        const from = num(inside, 0);
        const to = inside.at(-1) ?? from;
        const words = from === to ? `${one} ${from}` : `${many} ${from}–${to}`;
        return [line, `${block.name} ${words}`];
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
