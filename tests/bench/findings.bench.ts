import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import seedrandom from 'seedrandom';
import { fit } from '../../renderer/engine/stats/fit';
import { fitRequestSchema } from '../../shared-types/fit';
import type { DataTable, FitResult } from '../../shared-types/fit';

/**
 * The claims about the speed of the analyses, measured beside R doing the same work in the same run.
 * Processor time, so that other work on the machine does not count.
 */

type Columns = Record<string, (string | number)[]>;

const random = seedrandom('bench');
const normal = (): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
const normals = (count: number): number[] => Array.from({ length: count }, normal);
const at = (values: readonly number[], i: number): number => values[i] ?? 0;

function tableOf(columns: Columns): DataTable {
  return { columns, rowCount: columns['y']?.length ?? 0 };
}

/** Ten blocks of four trays, light by tray, ten feeds by pot: 400 pots. */
function splitPlot(): Columns {
  const blocks = normals(10);
  const trays = normals(40);
  const columns: Columns = { block: [], light: [], feed: [], y: [] };
  for (let i = 0; i < 400; i++) {
    const block = Math.floor(i / 40);
    const light = Math.floor(i / 10) % 4;
    columns['block']?.push(`b${block}`);
    columns['light']?.push(`l${light}`);
    columns['feed']?.push(`f${i % 10}`);
    columns['y']?.push(
      20 + 0.3 * light + at(blocks, block) + at(trays, block * 4 + light) + normal(),
    );
  }
  return columns;
}

/** 20 rows of 25 plots in one group, twenty varieties. */
function field(): Columns {
  const columns: Columns = { row: [], col: [], gen: [], y: [] };
  const [down, along] = [0.8, 0.5];
  let above = new Array<number>(25).fill(0);
  for (let r = 0; r < 20; r++) {
    const here: number[] = [];
    for (let c = 0; c < 25; c++) {
      const left = c > 0 ? at(here, c - 1) - down * at(above, c - 1) : 0;
      here.push(down * at(above, c) + along * left + 0.52 * normal());
      const gen = Math.floor(20 * random());
      columns['row']?.push(r + 1);
      columns['col']?.push(c + 1);
      columns['gen']?.push(`g${gen}`);
      columns['y']?.push(10 + 0.1 * gen + 1.5 * at(here, c) + 0.8 * normal());
    }
    above = here;
  }
  return columns;
}

/** Two feeds by three lights, nine of each in six blocks: 324 pots with two covariates. */
function factorial(): Columns {
  const columns: Columns = { block: [], feed: [], light: [], start: [], ppfd: [], y: [] };
  for (let i = 0; i < 324; i++) {
    const start = 4 + normal();
    const feed = i % 2;
    columns['block']?.push(`b${Math.floor(i / 54)}`);
    columns['feed']?.push(`f${feed}`);
    columns['light']?.push(`l${Math.floor(i / 2) % 3}`);
    columns['start']?.push(start);
    columns['ppfd']?.push(200 + 15 * normal());
    columns['y']?.push(20 + 0.2 * feed + 0.7 * start + normal());
  }
  return columns;
}

interface Work {
  readonly name: string;
  readonly file: string;
  /** How many times faster than R. */
  readonly claim: number;
  readonly columns: Columns;
  readonly request: object;
  readonly repeats: number;
  readonly figure: (result: FitResult) => number;
}

const works: Work[] = [
  {
    name: 'split plot of 400 pots by REML, df after Satterthwaite',
    file: 'split-plot.csv',
    claim: 3,
    columns: splitPlot(),
    request: {
      treatments: ['light', 'feed'],
      randomUnits: [['block'], ['block', 'light']],
      tests: 'marginal',
    },
    repeats: 10,
    figure: (result) => result.logLik ?? NaN,
  },
  {
    name: 'AR1 × AR1 with a nugget on 500 plots in one group',
    file: 'field.csv',
    claim: 5,
    columns: field(),
    request: {
      treatments: ['gen'],
      position: { row: 'row', column: 'col', model: 'ar1' },
      denominator: 'asymptotic',
    },
    repeats: 3,
    figure: (result) => result.logLik ?? NaN,
  },
  {
    name: '9,999 shuffles of a 2 × 3 with blocks and two covariates on 324 pots',
    file: 'factorial.csv',
    claim: 20,
    columns: factorial(),
    request: {
      treatments: ['feed', 'light'],
      fixedBlocks: ['block'],
      covariates: ['start', 'ppfd'],
      tests: 'marginal',
      redraw: { within: ['block'], runs: 9999, seed: 'bench' },
    },
    repeats: 3,
    figure: (result) => result.redraw?.p ?? NaN,
  },
];

function csv(columns: Columns): string {
  const names = Object.keys(columns);
  const lines = Array.from({ length: columns['y']?.length ?? 0 }, (_, i) =>
    names.map((name) => columns[name]?.[i]).join(','),
  );
  return [names.join(','), ...lines, ''].join('\n');
}

/** Milliseconds and figure of each work in R, or why there are none. */
function inR(): readonly { ms: number; figure: number }[] | string {
  const folder = mkdtempSync(join(tmpdir(), 'findings-'));
  try {
    for (const { file, columns } of works) writeFileSync(join(folder, file), csv(columns));
    const script = resolve('tests/bench/findings.R');
    const env = { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' };
    return execFileSync('Rscript', [script, folder], { encoding: 'utf8', stdio: 'pipe', env })
      .trim()
      .split('\n')
      .map((row) => {
        const [ms = NaN, figure = NaN] = row.split(' ').map(Number);
        return { ms, figure };
      });
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'ENOENT'
      ? 'not compared: there is no Rscript here'
      : `not compared: R failed (lme4 and lmerTest are needed): ${String(error).trim().slice(0, 400)}`;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const others = inR();
works.forEach(({ name, claim, columns, request, repeats, figure }, k) => {
  const table = tableOf(columns);
  const asked = fitRequestSchema.parse({ response: 'y', ...request });
  const times: number[] = [];
  let found = NaN;
  for (let i = 0; i < repeats; i++) {
    const start = process.cpuUsage();
    found = figure(fit(asked, table));
    const { user, system } = process.cpuUsage(start);
    times.push((user + system) / 1000);
  }
  const best = Math.min(...times);
  console.log(
    `${name}: ${best.toFixed(1)} ms at best, ${(times[0] ?? NaN).toFixed(1)} ms at first; ` +
      found.toPrecision(9),
  );
  if (typeof others === 'string') return console.log(`  ${others}`);
  const other = others[k];
  if (!other) throw new Error(`findings.R: gave ${others.length} lines; expected ${works.length}`);
  const ratio = other.ms / best;
  const verdict = ratio >= claim ? 'holds' : 'does not hold';
  console.log(
    `  in R ${other.ms} ms, ${other.figure}: ${ratio.toFixed(1)} times faster; ` +
      `claim of ${claim} times ${verdict}`,
  );
});
