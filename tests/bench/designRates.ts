/**
 * How often tests call what is not there and intervals hold what is, on designs as growers get them:
 * a tray lost, unequal trays, two factors of two levels, counts. Layouts and plants are simulated.
 */
import {
  analysedOf,
  COLUMN,
  factorRoles,
  fitModel,
  levelsPresent,
  tableOf,
  type ResponseScale,
  type TableReading,
} from '../../renderer/engine/findings';
import { shuffle, stream, type Stream } from '../../renderer/engine/trial/stream';
import type { FitRequest } from '../../shared-types/fit';
import type { PositionModel } from '../../shared-types/trial/position';
import { tableReading } from '../builders/tableReading';

/** What one set says of one term: p, and of a factor whether its interval holds the true difference. */
export interface Said {
  p: number | null;
  holds: boolean | null;
}

interface Tray {
  pots: number;
  lost: boolean;
}

export interface DesignCase {
  name: string;
  blocks: number;
  /** Levels of the factor on trays, one tray a level in each block, and of that on pots. */
  feeds: number;
  cultivars: number;
  trays: (random: Stream) => readonly Tray[];
  scale: ResponseScale;
  model: PositionModel;
}

const even = (count: number, pots: number): Tray[] =>
  Array.from({ length: count }, () => ({ pots, lost: false }));

const measured = { feeds: 3, cultivars: 4, blocks: 3, scale: null, model: 'none' } as const;
const oneLost = (random: Stream) => {
  const lost = random.integer(9);
  return even(9, 12).map((tray, i) => ({ ...tray, lost: i === lost }));
};

const uneven = (pots: readonly number[]) => (random: Stream) => {
  const sizes = pots.flatMap((count) => even(3, count));
  const order = shuffle(
    Int32Array.from(sizes, (_, i) => i),
    random,
  );
  return Array.from(order, (i) => sizes[i] ?? { pots: 12, lost: false });
};

export const designCases: readonly DesignCase[] = [
  { ...measured, name: 'one of nine trays lost', trays: oneLost },
  {
    ...measured,
    name: 'one of nine trays lost, rows and columns',
    model: 'rows+columns',
    trays: oneLost,
  },
  { ...measured, name: 'trays of 4, 12 and 24 pots', trays: uneven([4, 12, 24]) },
  { ...measured, name: 'trays of 8, 12 and 16 pots', trays: uneven([8, 12, 16]) },
  {
    ...measured,
    name: '2 × 2 with one factor on trays',
    blocks: 4,
    feeds: 2,
    cultivars: 2,
    trays: () => even(8, 12),
  },
  { ...measured, name: 'counts of mean 8', scale: 'poisson', trays: () => even(9, 12) },
  {
    ...measured,
    name: 'counts of mean 8, one of nine trays lost',
    scale: 'poisson',
    trays: oneLost,
  },
];

const MEAN_COUNT = 8;

/** Poisson number by inversion; means up to some hundred. */
function poisson(mean: number, random: Stream): number {
  let left = random.fraction() - Math.exp(-mean);
  let term = Math.exp(-mean);
  let count = 0;
  while (left > 0 && count < 1000) {
    count++;
    term *= mean / count;
    left -= term;
  }
  return count;
}

/**
 * What each term is said to be in one set without any effects. The blocks are drawn as complete
 * blocks of trays, the cultivars evenly over the pots of each tray; one plant in twenty is missing.
 */
export function saidOf(
  design: DesignCase,
  trayVariance: number,
  seed: string,
): Record<string, Said> {
  const random = stream(seed, `${design.name} ${trayVariance}`);
  const columns: Record<string, (string | number | null)[]> = {
    block: [],
    tray: [],
    row: [],
    column: [],
    feed: [],
    cultivar: [],
    y: [],
  };
  const trays = design.trays(random);
  for (let block = 0; block < design.blocks; block++) {
    const feeds = shuffle(
      Int32Array.from({ length: design.feeds }, (_, i) => i),
      random,
    );
    for (let k = 0; k < design.feeds; k++) {
      const number = block * design.feeds + k;
      const { pots, lost } = trays[number] ?? { pots: 12, lost: false };
      const own = Math.sqrt(trayVariance) * random.normal();
      const cultivars = shuffle(
        Int32Array.from({ length: pots }, (_, i) => i % design.cultivars),
        random,
      );
      for (let pot = 0; pot < pots; pot++) {
        const value =
          design.scale === null
            ? own + random.normal()
            : poisson(MEAN_COUNT * Math.exp(own), random);
        columns['block']?.push(`b${block}`);
        columns['tray']?.push(`t${number}`);
        columns['row']?.push(1 + Math.floor(pot / 4));
        columns['column']?.push(1 + (pot % 4));
        columns['feed']?.push(`f${feeds[k] ?? 0}`);
        columns['cultivar']?.push(`c${cultivars[pot] ?? 0}`);
        columns['y']?.push(lost || random.fraction() < 0.05 ? null : value);
      }
    }
  }
  const table = { columns, rowCount: columns['y']?.length ?? 0 };
  const { data, factors } = tableOf(table, reading(design));
  const analysed = analysedOf(data, factorRoles(data, factors), design.scale);
  const edgeVaries = levelsPresent(analysed.data, COLUMN.edge).length > 1;
  const asked = { confidence: 0.95, edgeVaries, scale: analysed.scale };
  const { result } = fitModel(analysed.data, analysed.design, design.model, asked, pairsAlone);
  return Object.fromEntries(
    result.terms.flatMap(({ term, p }) => {
      const names = term.split(' × ');
      if (!names.every((name) => name === 'feed' || name === 'cultivar')) return [];
      const pair = result.comparisons.find(({ of }) => of.join(' × ') === term)?.rows[0];
      const { lower, upper } = pair ?? {};
      const holds =
        typeof lower === 'number' && typeof upper === 'number' ? lower <= 0 && upper >= 0 : null;
      return [[term, { p, holds }]];
    }),
  );
}

/** The first difference of each factor by itself, without adjustment for the others. */
const pairsAlone = (request: FitRequest): FitRequest => ({
  ...request,
  means: [],
  contrasts: [],
  checks: [],
  compare: request.treatments
    .filter((name) => name === 'feed' || name === 'cultivar')
    .map((name) => ({ means: [name], by: [], method: 'none', against: null })),
});

function reading({ model }: DesignCase): TableReading {
  return tableReading({
    response: 'y',
    unit: 'g',
    block: 'block',
    tray: 'tray',
    row: 'row',
    column: 'column',
    position: model,
    factors: [
      { column: 'feed', kind: 'randomised', unit: 'tray' },
      { column: 'cultivar', kind: 'randomised', unit: 'pot' },
    ],
  });
}
