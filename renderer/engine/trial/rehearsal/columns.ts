import type { Factor, PositionModel } from '../../../../shared-types/trial';
import { partitionBy } from '../partition';
import type { Partition } from '../partition';
import type { Site } from '../site';

/** Level number of one factor at every measured pot. */
export type LevelNumbers = ReadonlyMap<string, Int32Array>;

/** Indicator columns of a partition's classes, less one. */
export function indicatorColumns(partition: Partition): Float64Array[] {
  return Array.from({ length: partition.count - 1 }, (_, c) =>
    Float64Array.from(partition.classOf, (own) => (own === c ? 1 : 0)),
  );
}

/** Columns of a main effect or interaction: products of deviation contrasts of its factors. */
export function effectColumns(
  factors: readonly Factor[],
  levels: LevelNumbers,
  pots: number,
): Float64Array[] {
  let columns = [new Float64Array(pots).fill(1)];
  for (const factor of factors) {
    const own = levels.get(factor.id);
    if (!own) throw new Error(`factor ${factor.name}: its levels at the pots are not known`);
    const last = factor.levels.length - 1;
    columns = columns.flatMap((column) =>
      Array.from({ length: last }, (_, level) =>
        column.map((value, i) => {
          const at = own[i];
          return at === level ? value : at === last ? -value : 0;
        }),
      ),
    );
  }
  return columns;
}

/** The columns by which position enters the rehearsed analysis, with the words for it. */
export function positionColumns(
  site: Site,
  model: PositionModel,
): { columns: Float64Array[]; words: string } {
  const { pots, ppfd } = site;
  const column = (at: (i: number) => number): Float64Array =>
    Float64Array.from(pots, (_, i) => at(i));
  switch (model) {
    case 'none':
      return { columns: [], words: 'without position' };
    case 'edge':
      return {
        columns: [column((i) => (pots[i]?.onEdge ? 1 : 0))],
        words: 'with edge pots as covariate',
      };
    case 'light':
      return ppfd
        ? { columns: [column((i) => ppfd[i] ?? 0)], words: 'with light as covariate' }
        : { columns: [], words: 'without position, as the light is not known' };
    case 'linear':
      return {
        columns: [column((i) => pots[i]?.xMm ?? 0), column((i) => pots[i]?.yMm ?? 0)],
        words: 'with a slope along and across the shelf',
      };
    case 'rows+columns':
    case 'smooth':
    case 'ar1': {
      const lines = (of: 'row' | 'column'): Float64Array[] =>
        indicatorColumns(partitionBy(pots.map((pot) => `${pot.trayId}:${pot[of]}`)));
      const instead =
        model === 'rows+columns' ? '' : ', which stand in for the planned smooth model';
      return {
        columns: [...lines('row'), ...lines('column')],
        words: `with rows and columns within trays${instead}`,
      };
    }
  }
}
