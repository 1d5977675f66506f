import { chmodSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { runBatch } from '../../electron/batch/run';
import { verbs } from '../../electron/batch/verbs/index';
import { lampFileOf } from '../../renderer/derive';
import { integratedLumens } from '../../renderer/engine/lamps/photometry/distribution';
import { readPlan, writePlan } from '../../renderer/document/open';
import { matchTable, toValues } from '../../renderer/document/records';
import { defaultOptions, printables, printed } from '../../renderer/print';
import { drawnPlan } from '../builders/samplePlan';
import { readTable } from '../../renderer/tables';
import { disturbHarvest, mutateJson, mutateText, renameAll } from './mutate';

/** How a case ended. Anything but `taken` and `refused` is a fault of the program. */
export type Ending =
  | { kind: 'taken' | 'refused' }
  | { kind: 'crash' | 'infinite' | 'slow'; what: string };

export const cpuLimitMs = 5000;

const lamp = `IESNA:LM-63-2002
[TEST] none
TILT=NONE
1 1000 1 5 3 1 2 0.05 1.2 0
1 1 50
0 22.5 45 67.5 90
0 45 90
300 280 220 120 0
310 285 225 125 5
320 290 230 130 10
`;

const rows = ['a', 'b'].flatMap((light) =>
  ['bark', 'clay', 'peat'].flatMap((medium) =>
    [1, 2, 3, 4].map((block) => {
      const weight = (40 + block * 1.7 + medium.length * 0.9 + (light === 'a' ? 3 : 0)).toFixed(2);
      return `${light},${medium},${block},${block},${medium.length},${weight}`;
    }),
  ),
);
const table = `light,medium,block,row,col,weight\n${rows.join('\n')}\n`;

const fitRequest = JSON.stringify({
  response: 'weight',
  treatments: ['light', 'medium'],
  fixedBlocks: ['block'],
  means: [['light'], ['medium']],
  compare: [{ means: ['medium'], by: [], method: 'tukey', against: null }],
  checks: ['brown-forsythe', 'shapiro-wilk', 'moran'],
  moran: { row: 'row', column: 'col', within: ['light'], neighbours: 'rook' },
});
const powerRequest = JSON.stringify({
  alpha: 0.05,
  treatments: { light: 2, medium: 3 },
  unitsPerCell: 12,
  sd: 1,
  effect: { f: 0.25, of: 'medium' },
  blocks: 1,
  solve: 'power',
});

/** A trial that can be analysed: 12 pots, weighed at the start and at harvest, one of them dead. */
function harvested(): string {
  const plan = drawnPlan('2026-03-02');
  const pots = plan.layout?.assignments ?? [];
  const weights = (grams: number) =>
    Object.fromEntries(
      pots.map(({ potId, levels }, i) => [
        potId,
        grams + ((i * 7) % 5) / 10 + (levels['f2'] === 'v3' ? grams / 10 : 0),
      ]),
    );
  const trial = plan.trial && {
    ...plan.trial,
    startDate: '2026-03-02',
    harvestDate: '2026-04-06',
    expected: { plantSd: 2, unitSd: 1, smallestDifference: 3, power: 0.8 },
  };
  return writePlan({
    ...plan,
    trial,
    records: {
      values: { m1: weights(2), m2: weights(40) },
      second: { m2: { 't1:1:1': 41 } },
      marks: { 't1:1:2': { mark: 'dead', date: '2026-03-20', reason: 'wilted' } },
      delivered: { t1: { '2026-03-19': { ec: 1.8, ph: 5.9 }, '2026-03-20': { ppfd: 240 } } },
      incidents: [{ id: 'n9', date: '2026-03-20', text: 'Pump stood', about: ['t1'] }],
    },
  });
}

/** The cases of one seed; each is made from the seed and its number alone. */
export class Fuzz {
  private readonly plans: readonly string[];
  private readonly records: string;
  private readonly harvested = harvested();

  /** `root`: the project's folder; `folder`: where the files of the cases go. */
  constructor(
    root: string,
    private readonly folder: string,
    private readonly seed: string,
  ) {
    const example = (name: string): string =>
      readFileSync(join(root, 'renderer/app/examples', `${name}.json`), 'utf8');
    this.plans = [example('water'), example('two-lamps')];
    this.records = example('two-lamps');
  }

  /**
   * Runs case `i`; the kinds come in turn: plan, table, lamp file, request, plan as it is written,
   * a plan with a harvest, a plan of strange names, files that are empty, read-only or no files.
   */
  async run(i: number): Promise<Ending> {
    const before = process.cpuUsage();
    const ending = await this.runNow(i).catch((error: unknown): Ending => ({
      kind: 'crash',
      what: error instanceof Error ? (error.stack ?? error.message) : String(error),
    }));
    const { user, system } = process.cpuUsage(before);
    const ms = (user + system) / 1000;
    if (ms > cpuLimitMs) return { kind: 'slow', what: `${Math.round(ms)} ms` };
    return ending;
  }

  private async runNow(i: number): Promise<Ending> {
    const random = seedrandom(`${this.seed} ${i}`);
    switch (i % 8) {
      case 0:
        return this.plan(mutateJson(this.plans[random() < 0.5 ? 0 : 1] ?? '', random), random());
      case 1:
        return random() < 0.5
          ? this.fit(fitRequest, mutateText(table, random))
          : this.recordsTable(mutateText(this.codes(), random));
      case 2:
        return lampFile(mutateText(lamp, random));
      case 3:
        return random() < 0.5
          ? this.fit(mutateJson(fitRequest, random), table)
          : this.verb(['power', this.file('request.json', mutateJson(powerRequest, random))]);
      case 4:
        return this.plan(mutateText(this.plans[random() < 0.5 ? 0 : 1] ?? '', random), random());
      case 5:
        return this.trial(
          (random() < 0.4 ? mutateJson : disturbHarvest)(this.harvested, random),
          random(),
        );
      case 6:
        return this.trial(renameAll(this.harvested, random), random());
      default:
        return this.oddFile(random);
    }
  }

  /** Findings, a rehearsal of few runs, or every page that can be printed. */
  private async trial(text: string, choice: number): Promise<Ending> {
    const path = this.file('plan.evenrack', text);
    const few = ['--effect', '{}', '--runs', '2', '--seed', 'fuzz'];
    if (choice < 0.4) return this.verb(['findings', path, '--redraws', '19']);
    if (choice < 0.6) return this.verb(['rehearse', path, ...few]);
    const read = readPlan(text);
    if (!read.ok) return { kind: 'refused' };
    const options = { ...defaultOptions('A4'), previous: true, blinded: choice > 0.9 };
    const pages = printables(read.plan, options).map(
      ({ name }) => printed(read.plan, name, options, 12)?.html ?? '',
    );
    return said(pages.join(''), text);
  }

  /** What is no plan, table or lamp file at all, or may not be written. */
  private oddFile(random: () => number): Promise<Ending> {
    const nothing = ['', ' \n', '\uFEFF', '\u0000', '\r\n\r\n'][Math.floor(random() * 5)] ?? '';
    const path = this.file('odd.evenrack', nothing);
    const locked = join(this.folder, 'locked.evenrack');
    rmSync(locked, { force: true });
    writeFileSync(locked, this.harvested);
    chmodSync(locked, 0o444);
    const folder = join(this.folder, 'folder.evenrack');
    mkdirSync(folder, { recursive: true });
    const calls = [
      ...['check', 'light', 'flood', 'findings'].flatMap((verb) => [
        [verb, path],
        [verb, locked],
        [verb, folder],
      ]),
      ['draw', locked, '--seed', 'fuzz', '--out', locked],
      ['draw', path, '--seed', 'fuzz', '--csv', locked],
      ['print', locked, '--out', locked],
      ['fit', path, '--table', locked],
      ['fit', this.file('request.json', fitRequest), '--table', path],
      ['power', path],
    ];
    return this.verb(calls[Math.floor(random() * calls.length)] ?? []);
  }

  private plan(text: string, choice: number): Promise<Ending> {
    const path = this.file('plan.evenrack', text);
    const calls = [
      ['check', path],
      ['light', path],
      ['flood', path],
      ['draw', path, '--seed', 'fuzz'],
    ];
    return this.verb(calls[Math.floor(choice * calls.length)] ?? []);
  }

  private fit(request: string, data: string): Promise<Ending> {
    return this.verb([
      'fit',
      this.file('request.json', request),
      '--table',
      this.file('table.csv', data),
    ]);
  }

  private async verb(words: readonly string[]): Promise<Ending> {
    let text = '';
    const hear = (part: string): void => void (text += part);
    const code = await runBatch(words, verbs, { out: hear, err: hear });
    if (/^\s+at .+:\d+:\d+\)?$/m.test(text)) return { kind: 'crash', what: text.slice(0, 500) };
    return { kind: code === 0 ? 'taken' : 'refused' };
  }

  /** A table as it is imported, and what would come into the plan. */
  private recordsTable(text: string): Promise<Ending> {
    const opened = readPlan(this.records);
    if (!opened.ok) throw new Error('the example cannot be opened');
    const read = readTable(text);
    if (!read.ok) return Promise.resolve({ kind: 'refused' });
    const preview = matchTable(opened.plan, read.table);
    return Promise.resolve(finite(toValues(preview, true)));
  }

  private codes(): string {
    const opened = readPlan(this.records);
    const pots = opened.ok ? (opened.plan.layout?.assignments ?? []) : [];
    const names = opened.ok ? (opened.plan.trial?.measurements ?? []).map((m) => m.name) : [];
    const lines = pots.slice(0, 20).map(({ potId }, i) => [potId, ...names.map(() => 20 + i)]);
    return [['pot', ...names], ...lines].map((line) => line.join(',')).join('\n');
  }

  private file(name: string, text: string): string {
    const path = join(this.folder, name);
    writeFileSync(path, text);
    return path;
  }
}

function lampFile(text: string): Promise<Ending> {
  const read = lampFileOf(text);
  if (!read.ok) return Promise.resolve({ kind: 'refused' });
  const { photometry } = read;
  return Promise.resolve(finite([photometry, integratedLumens(photometry.candela)]));
}

/** Figures that are none, on a page; unless the person wrote so. */
function said(html: string, plan: string): Ending {
  const what = /.{40}\b(?:NaN|Infinity|undefined|\[object).{20}/s.exec(html)?.[0];
  return what === undefined || /NaN|Infinity|undefined|object/.test(plan)
    ? { kind: 'taken' }
    : { kind: 'infinite', what };
}

function finite(value: unknown, where = ''): Ending {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    return { kind: 'infinite', what: `${where} is ${value}` };
  }
  if (typeof value !== 'object' || value === null) return { kind: 'taken' };
  const items = value instanceof Map ? [...value.entries()] : Object.entries(value);
  for (const [key, item] of items as [unknown, unknown][]) {
    const ending = finite(item, `${where}.${String(key)}`);
    if (ending.kind === 'infinite') return ending;
  }
  return { kind: 'taken' };
}
