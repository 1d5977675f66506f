/**
 * How often the analysis of the findings calls a treatment that does nothing a difference: designs
 * laid at random on simulated trays, and on fields and basins where all plots were treated alike.
 */
import { readFileSync } from 'node:fs';
import {
  COLUMN,
  designModel,
  levelsPresent,
  factorRoles,
  fitModel,
  layoutsForFindings,
  requestFor,
  tableAllocation,
  tableOf,
  termOf,
  type TableReading,
} from '../../renderer/engine/findings';
import { buildDesign } from '../../renderer/engine/stats/design';
import { untreatedModel } from '../../renderer/engine/stats/fit/randomisation';
import { termContrasts } from '../../renderer/engine/stats/hypotheses';
import { rowsOf } from '../../renderer/engine/stats/linear';
import {
  cellFits,
  jointF,
  layoutsOf,
  referenceOf,
} from '../../renderer/engine/stats/randomisation';
import { shuffle, stream, type Stream } from '../../renderer/engine/trial/stream';
import type { DataTable, FitRequest } from '../../shared-types/fit';
import type { PositionModel } from '../../shared-types/trial/position';
import { tableReading } from '../builders/tableReading';

/** p of a factor in each set; null where it could not be tested. */
export type Ps = Record<string, (number | null)[]>;

const reading = tableReading({
  response: 'y',
  unit: 'g',
  block: 'block',
  tray: 'tray',
  row: 'row',
  column: 'column',
});

/** The term tests of the findings, without means and comparisons. */
function testsOf(
  table: DataTable,
  factors: TableReading['factors'],
  model: PositionModel,
  seed = 'none',
): (name: string) => number | null {
  const { data, design, asked } = askedOf(table, factors);
  const allocation = tableAllocation(data, design, { runs: layoutsForFindings(0.05), seed });
  const { result } = fitModel(data, design, model, { ...asked, allocation }, bare);
  return (name) => termOf(result, [name])?.p ?? null;
}

const bare = (request: FitRequest): FitRequest => ({
  ...request,
  means: [],
  compare: [],
  contrasts: [],
  checks: [],
});

function askedOf(table: DataTable, factors: TableReading['factors']) {
  const { data, factors: read } = tableOf(table, { ...reading, factors });
  const design = designModel(data, factorRoles(data, read));
  const edgeVaries = levelsPresent(data, COLUMN.edge).length > 1;
  return { data, design, asked: { confidence: 0.95, edgeVaries } };
}

/**
 * Three blocks of three trays of twelve pots: three feeds drawn on the trays of each block, four
 * cultivars on the pots of each tray, a plant in twenty missing. Pots have variance 1.
 */
export function trayAlarms(trayVariance: number, sets: number, seed: string): Ps {
  const found: Ps = { feed: [], cultivar: [] };
  for (let set = 0; set < sets; set++) {
    const random = stream(seed, `trays ${trayVariance} ${set}`);
    const columns: Record<string, (string | number | null)[]> = {
      block: [],
      tray: [],
      row: [],
      column: [],
      feed: [],
      cultivar: [],
      y: [],
    };
    for (let block = 0; block < 3; block++) {
      const feeds = shuffle(Int32Array.of(0, 1, 2), random);
      for (let tray = 0; tray < 3; tray++) {
        const own = Math.sqrt(trayVariance) * random.normal();
        const cultivars = shuffle(
          Int32Array.from({ length: 12 }, (_, i) => i % 4),
          random,
        );
        for (let pot = 0; pot < 12; pot++) {
          columns['block']?.push(`b${block}`);
          columns['tray']?.push(`t${3 * block + tray}`);
          columns['row']?.push(1 + Math.floor(pot / 4));
          columns['column']?.push(1 + (pot % 4));
          columns['feed']?.push(`f${feeds[tray] ?? 0}`);
          columns['cultivar']?.push(`c${cultivars[pot] ?? 0}`);
          const value = own + random.normal();
          columns['y']?.push(random.fraction() < 0.05 ? null : value);
        }
      }
    }
    const p = testsOf(
      { columns, rowCount: 108 },
      [
        { column: 'feed', kind: 'randomised', unit: 'tray' },
        { column: 'cultivar', kind: 'randomised', unit: 'pot' },
      ],
      'none',
    );
    found['feed']?.push(p('feed'));
    found['cultivar']?.push(p('cultivar'));
  }
  return found;
}

export type Field = 'barley' | 'radish';

/** Barley: four blocks of 7 × 7 plots, seven treatments. Radish: four basins of 10 × 10, five. */
function readField(field: Field): { block: string; row: number; column: number; y: number }[] {
  const name = field === 'barley' ? 'kempton.barley' : 'heath.radish';
  const url = new URL(
    `../reference/uniformity/${name}.uniformity.csv`,
    // A bundle stands elsewhere than its source.
    `file://${process.cwd()}/tests/bench/`,
  );
  const [head = '', ...lines] = readFileSync(url, 'utf8').trim().split(/\r?\n/);
  const names = head.split(',');
  return lines.flatMap((line) => {
    const cells = line.split(',');
    const cell = (column: string) => cells[names.indexOf(column)] ?? '';
    const row = Number(cell('row'));
    const y = Number(cell('yield'));
    if (cell('yield') === '' || !Number.isFinite(y)) return [];
    const block = field === 'barley' ? `b${Math.ceil(row / 7)}` : cell('block');
    return [{ block, row, column: Number(cell('col')), y }];
  });
}

type Plots = ReturnType<typeof readField>;

function fieldTable(field: Field, plots: Plots, treated: string[]): DataTable {
  const columns = {
    block: plots.map(({ block }) => block),
    tray: plots.map(({ block }) => (field === 'barley' ? 'field' : block)),
    row: plots.map(({ row }) => row),
    column: plots.map(({ column }) => column),
    treatment: treated,
    y: plots.map(({ y }) => y),
  };
  return { columns, rowCount: plots.length };
}

const treatment: TableReading['factors'] = [
  { column: 'treatment', kind: 'randomised', unit: 'pot' },
];

/** p of treatments drawn in complete blocks on a field where all plots were treated alike. */
export function fieldAlarms(
  field: Field,
  model: PositionModel,
  layouts: number,
  seed: string,
): (number | null)[] {
  const plots = readField(field);
  const treatments = field === 'barley' ? 7 : 5;
  const blocks = [...new Set(plots.map(({ block }) => block))];
  const drawn = Array.from({ length: layouts }, (_, layout) =>
    drawBlocks(plots, blocks, treatments, stream(seed, `${field} ${layout}`)),
  );
  if (model === 'smooth' || model === 'ar1') return randomised(field, model, plots, drawn, seed);
  return drawn.map((treated) =>
    testsOf(fieldTable(field, plots, treated), treatment, model)('treatment'),
  );
}

/**
 * The same by randomisation tests. On a field without treatments the untreated model and the layouts
 * to compare with are the same for each of `drawn`: they are made once, as many as are drawn.
 */
function randomised(
  field: Field,
  model: PositionModel,
  plots: Plots,
  drawn: readonly string[][],
  seed: string,
): number[] {
  const table = fieldTable(field, plots, drawn[0] ?? []);
  const { data, design, asked } = askedOf(table, treatment);
  const request = bare(requestFor(design, model, asked));
  const allocation = tableAllocation(data, design, { runs: drawn.length - 1, seed });
  if (!allocation) throw new Error('the treatment was not drawn over plots');
  const laid = buildDesign(request, data.table);
  const fits = cellFits(laid, untreatedModel(request, data.table, laid).projection);
  const term = laid.terms.findIndex(({ name }) => name === 'treatment');
  const rows = rowsOf(termContrasts(laid, request.tests)[term] ?? laid.x).map((row) =>
    Float64Array.from(fits.columns, (j) => row[j] ?? 0),
  );
  const f = (cells: Int32Array): number => jointF(fits.fit(cells), rows);
  const { at, count } = layoutsOf(laid, fits, allocation, ['treatment']);
  const others = Float64Array.from({ length: count }, (_, run) => f(at(run)));
  const reference = referenceOf(others, false, 0);
  const levels = laid.factors.get('treatment')?.levels ?? [];
  return drawn.map((treated) =>
    reference.p(
      f(
        Int32Array.from(laid.rowIndex, (row) =>
          fits.moved(0, new Map([['treatment', levels.indexOf(treated[row] ?? '')]])),
        ),
      ),
    ),
  );
}

function drawBlocks(
  plots: readonly { block: string }[],
  blocks: readonly string[],
  treatments: number,
  random: Stream,
): string[] {
  const treated = plots.map(() => '');
  for (const block of blocks) {
    const own = plots.flatMap((plot, i) => (plot.block === block ? [i] : []));
    const labels = shuffle(
      Int32Array.from(own, (_, k) => k % treatments),
      random,
    );
    own.forEach((plot, k) => {
      treated[plot] = `t${labels[k] ?? 0}`;
    });
  }
  return treated;
}

/** Position models that ask nothing but the place of each pot. */
export const PLACE_MODELS = [
  'none',
  'edge',
  'linear',
  'rows+columns',
  'smooth',
  'ar1',
] as const satisfies readonly PositionModel[];

/**
 * p of four treatments under every position model, on plots where all were treated alike: a window
 * of 4 × 6 plots taken at random out of each of four basins of radish stands for a tray, and is a
 * complete block. null: a model that could not be fitted.
 */
export function windowAlarms(
  sets: { from: number; to: number },
  seed: string,
): Record<string, number | null>[] {
  const plots = readField('radish');
  const basins = [...new Set(plots.map(({ block }) => block))];
  return Array.from({ length: sets.to - sets.from }, (_, k) => {
    const random = stream(seed, `window ${sets.from + k}`);
    const inside = basins.flatMap((basin) => {
      const own = plots.filter(({ block }) => block === basin);
      const first = (along: readonly number[], size: number) =>
        Math.min(...along) + random.integer(Math.max(...along) - Math.min(...along) + 2 - size);
      const row = first(
        own.map((plot) => plot.row),
        4,
      );
      const column = first(
        own.map((plot) => plot.column),
        6,
      );
      return own.filter(
        (plot) =>
          plot.row >= row &&
          plot.row < row + 4 &&
          plot.column >= column &&
          plot.column < column + 6,
      );
    });
    const columns = {
      block: inside.map(({ block }) => block),
      tray: inside.map(({ block }) => block),
      row: inside.map(({ row }) => row),
      column: inside.map(({ column }) => column),
      treatment: drawBlocks(inside, basins, 4, random),
      y: inside.map(({ y }) => y),
    };
    const factors = [{ column: 'treatment', kind: 'randomised' as const, unit: 'pot' as const }];
    const pOf = (model: PositionModel): number | null => {
      try {
        const table = { columns, rowCount: inside.length };
        return testsOf(table, factors, model, `${seed} ${sets.from + k}`)('treatment');
      } catch {
        return null;
      }
    };
    return Object.fromEntries(PLACE_MODELS.map((model) => [model, pOf(model)]));
  });
}

/** Share of sets in which any of the models gives a p below a level, with its standard error. */
export function shareOfAny(
  sets: readonly Record<string, number | null>[],
  level: number,
): { share: number; se: number; tests: number } {
  const least = sets.map((ps) =>
    Math.min(...Object.values(ps).filter((p): p is number => p !== null)),
  );
  return shareBelow(least, level);
}

/** Share of tests below a level, with its Monte-Carlo standard error. */
export function shareBelow(
  ps: readonly (number | null)[],
  level: number,
): { share: number; se: number; tests: number } {
  const told = ps.filter((p) => p !== null);
  const share = told.filter((p) => p < level).length / told.length;
  return { share, se: Math.sqrt((share * (1 - share)) / told.length), tests: told.length };
}
