import { readFileSync } from 'node:fs';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { findingsOfPlan, noticesOf, noticesOfTable } from '../../../renderer/derive';
import { paragraphs, type Findings, findingsOfTable } from '../../../renderer/engine/findings';
import { renameLevel, renamePlan } from '../../../renderer/document/commands';
import { readPlan } from '../../../renderer/document/open';
import {
  dataTable,
  figureFile,
  findingsTables,
  reportFigures,
  reportHtml,
  plantsFigure,
  rackFigure,
  reportFiles,
  residualFigure,
  tablesCsv,
} from '../../../renderer/print/report';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { tableReading } from '../../builders/tableReading';

function example(name: string): Plan {
  const url = new URL(`../../../renderer/app/examples/${name}.json`, import.meta.url);
  const read = readPlan(readFileSync(url, 'utf8'));
  if (!read.ok) throw new Error(name);
  return read.plan;
}

function findingsIn(plan: Plan): Findings {
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

function reportOf(plan: Plan): string {
  const findings = findingsIn(plan);
  const notices = noticesOf(plan, { ok: true, findings });
  return reportHtml({ title: plan.title, plan, findings, notices, paper: 'A4' });
}

const basil = example('basil');
const EVIL = '<script>alert("&\'")</script>';

/** Every element that is opened is closed, in order; attributes are quoted. */
function balance(markup: string): string[] {
  const open: string[] = [];
  const bare = markup
    .replace(/<style>[^<]*<\/style>/g, '')
    .replace(/<!doctype[^>]*>|<\?xml[^>]*>/gi, '');
  for (const [tag, closing, name = ''] of bare.matchAll(
    /<(\/?)([a-zA-Z][a-zA-Z0-9]*)(?:\s+[a-zA-Z][a-zA-Z0-9:-]*(?:="[^"<]*")?)*\s*\/?>/g,
  )) {
    if (name === 'meta' || tag.endsWith('/>')) continue;
    if (closing) {
      const last = open.pop();
      if (last !== name) throw new Error(`</${name}> closes <${last ?? 'nothing'}>`);
    } else open.push(name);
  }
  return open;
}

describe('the report', () => {
  const html = reportOf(basil);
  const findings = findingsIn(basil);

  it('answers first, then says how it was set up, and then all else', () => {
    const headings = [...html.matchAll(/<h2 id="([^"]+)">([^<]*)<\/h2>/g)];
    expect(headings.map(([, , heading]) => heading)).toEqual([
      'What was found',
      'Set-up',
      'Method',
      'Data',
      'Results in words',
      'Results in figures',
      'Did position do it?',
      'Over time',
      'Checks',
      'The rack, pot by pot',
      'Cautions',
      'Incidents and pots left out',
    ]);
    for (const [, id] of headings.slice(1)) expect(html).toContain(`href="#${id ?? ''}"`);
    expect(html).toContain(paragraphs(findings)[0]?.slice(0, 60) ?? '?');
    for (const incident of basil.records.incidents) expect(html).toContain(incident.text);
  });

  it('is whole: every element is closed, nothing is fetched, no NaN is printed', () => {
    expect(balance(html)).toEqual([]);
    expect(html).not.toMatch(/<(script|link|iframe|img)\b|(?:src|href)="https?:/);
    expect(html).not.toMatch(/NaN|undefined|\[object/);
  });

  it('has on its first page the answers, what they rest on, every plant and the rack', () => {
    const [first = '', rest = ''] = html.split('<nav');
    const at = [
      ...['class="first"', basil.trial?.question ?? '?', 'grew the heaviest plants', '>Left out<'],
      ...['Every plant’s Fresh weight by feed and cultivar', 'The rack as treated'],
    ].map((what) => first.indexOf(what));
    expect(at).toEqual([...at].sort((a, b) => a - b));
    expect(at).not.toContain(-1);
    expect(rest).toContain('class="maps"');
    // Without treatments the rack itself is the picture, and the set-up follows at once.
    const [alike = '', more = ''] = reportOf(example('radishes')).split('<nav');
    expect(alike).toContain('class="opening"');
    expect(alike).toContain('class="maps"');
    expect(more).not.toContain('class="maps"');
  });

  it('fits a phone: figures are drawn anew for it, and tables scroll in themselves', () => {
    const drawn = [...html.matchAll(/<figure [^>]*>.*?<\/figure>/gs)].map(([figure]) => figure);
    const framed = drawn.filter((figure) => figure.includes('class="wide"'));
    expect(framed.length).toBeGreaterThan(8);
    for (const figure of framed) {
      const [, narrow = ''] = figure.split('<div class="narrow">');
      // 390 px less a margin of 16 on either side.
      expect(Number(/ width="([\d.]+)"/.exec(narrow)?.[1])).toBeLessThanOrEqual(358);
    }
    const tables = html.split('<table').slice(0, -1);
    const free = tables.filter((before) => !before.endsWith('tabindex="0">'));
    expect(free.length, 'facts have two columns, which wrap').toBe(
      html.split('<table class="facts').length - 1,
    );
    expect(html).toContain('name="viewport"');
  });

  it('holds every file of data as a link, and prints no row of them', () => {
    const files = reportFiles({ title: basil.title, plan: basil, findings });
    expect(files.map(({ name }) => name)).toEqual([
      ...['data.csv', 'tables.csv', 'records.csv', 'columns.csv', 'plan.evenrack'],
    ]);
    for (const { name, text } of files) {
      const link = new RegExp(`download="${name}" href="data:[^,]*,([^"]*)"`).exec(html)?.[1];
      const held = decodeURIComponent((link ?? '').replace(/&#39;/g, "'"));
      expect(held, name).toBe(text);
    }
    const plan = readPlan(files.at(-1)?.text ?? '');
    expect(plan.ok && plan.plan).toEqual(basil);
    const read = html.replace(/<a [^>]*>/g, '').replace(/<svg.*?<\/svg>/gs, '');
    const pots = findings.pots.filter(({ code }) => read.includes(code));
    expect(pots.length).toBeLessThan(20);
  });

  it('prints the reason with which a notice was accepted', () => {
    const [first] = noticesOf(example('two-lamps'), findingsOfPlan(example('two-lamps')));
    if (!first) throw new Error('two lamps have a notice');
    const plan = {
      ...example('two-lamps'),
      acceptedNotices: [
        {
          kind: first.kind,
          about: first.about,
          reason: 'reported as a case',
          date: '2026-05-01',
        },
      ],
    };
    expect(reportOf(plan)).toContain('Accepted because: reported as a case');
  });

  it('keeps the words of a plan as words', () => {
    const renamed = run(run(basil, renamePlan, { title: EVIL }), renameLevel, {
      factorId: 'f50',
      levelId: 'v51',
      name: EVIL,
    });
    const evil = reportOf(renamed);
    expect(evil).not.toContain('<script');
    expect(evil).toContain('&lt;script&gt;');
    expect(balance(evil)).toEqual([]);
  });

  it('says that a factor without replication is not tested, in a plan of two lamps', () => {
    const plain = reportOf(example('two-lamps'));
    expect(plain).toContain('is not replicated');
    expect(plain).toContain('nothing is concluded');
    expect(plain).toContain('Not to be relied on:');
  });
});

describe('the report of a table from elsewhere', () => {
  const oats = readFileSync(new URL('../../reference/data/oats.csv', import.meta.url), 'utf8');
  const rows = Papa.parse<Record<string, string>>(oats.trim(), { header: true }).data;
  const column = (name: string) => rows.map((row) => row[name] ?? '');
  const outcome = findingsOfTable(
    {
      rowCount: rows.length,
      columns: {
        Block: column('Block'),
        Variety: column('Variety'),
        nitro: column('nitro'),
        yield: column('yield').map(Number),
      },
    },
    tableReading({
      title: 'Oats <1935>',
      response: 'yield',
      unit: 'bushels',
      factors: [
        { column: 'Variety', kind: 'randomised', unit: 'tray' },
        { column: 'nitro', kind: 'randomised', unit: 'pot' },
      ],
      block: 'Block',
      shelf: 'Block',
      tray: 'Variety',
    }),
  );
  if (!outcome.ok) throw new Error(outcome.missing);
  const { findings } = outcome;
  const html = reportHtml({
    title: 'Oats <1935>',
    plan: null,
    findings,
    notices: noticesOfTable(findings),
    paper: 'Letter',
  });

  it('has words, tables, method, cautions and every line of data, and no rack', () => {
    expect(balance(html)).toEqual([]);
    expect(html).toContain('Oats &lt;1935&gt;');
    expect(html).toContain('Nitro made a difference');
    expect(html).toContain('how it was drawn is not known here');
    expect(html).toMatch(/@page \{ size: 21[0-9.]+mm 279/);
    expect(html).not.toContain('>Set-up</h2>');
    expect(html).not.toMatch(/NaN|undefined|\[object/);
    const data = dataTable('Oats', findings, 'metric');
    expect(data.rows).toHaveLength(72);
    expect(data.columns.map(({ head }) => head)).toEqual([
      'pot',
      'shelf',
      'tray',
      'block',
      'Variety',
      'nitro',
      'yield',
    ]);
  });
});

describe('the tables as a file', () => {
  const findings = findingsIn(basil);
  const tables = [
    ...findingsTables(findings, 'metric'),
    dataTable(basil.title, findings, 'metric'),
  ];
  const rows = Papa.parse<string[]>(tablesCsv(tables).trim()).data;

  it('holds every table with as many cells as its head', () => {
    for (const table of tables) {
      const at = rows.findIndex((row) => row[0] === table.caption);
      expect(at, table.caption).toBeGreaterThanOrEqual(0);
      const head = rows[at + 1] ?? [];
      for (let i = 0; i < table.rows.length; i++)
        expect(rows[at + 2 + i]).toHaveLength(head.length);
    }
  });

  it('gives full figures and both ends of an interval', () => {
    const at = rows.findIndex((row) => row[0]?.startsWith('Adjusted means by feed,'));
    const head = rows[at + 1] ?? [];
    const mean = Number(rows[at + 2]?.[head.indexOf('Mean')]);
    const of = findings.primary.result.means[0]?.rows.find((r) => r.feed === rows[at + 2]?.[0]);
    expect(mean).toBe(of?.mean);
    expect(Number(rows[at + 2]?.[head.indexOf('95 % interval, lower')])).toBe(of?.lower);
  });

  it('keeps a spreadsheet from taking a name for a formula', () => {
    const renamed = run(basil, renameLevel, { factorId: 'f50', levelId: 'v51', name: '=1+1' });
    const csv = tablesCsv(findingsTables(findingsIn(renamed), 'metric'));
    expect(csv).toContain("'=1+1");
    expect(csv).not.toMatch(/(^|[,"\n])=1\+1/);
  });
});

describe('figures', () => {
  const findings = findingsIn(basil);

  it('are whole files of their own, black on white, the same every time', () => {
    const files = reportFigures(basil, findings).map(figureFile);
    expect(files.length).toBeGreaterThan(5);
    for (const file of files) {
      expect(file).toMatch(/^<\?xml[^>]*>\n<svg xmlns="http:\/\/www.w3.org\/2000\/svg"/);
      expect(file).toContain('background: #fff');
      expect(file).not.toContain('var(--surface');
      expect(file).not.toMatch(/NaN|Infinity/);
      expect(balance(file)).toEqual([]);
    }
    expect(reportFigures(basil, findings).map(figureFile)).toEqual(files);
  });

  it('carry no colour that a black and white print would lose', () => {
    for (const { name, svg } of reportFigures(basil, findings)) {
      // Marks and grounds of the rack are looked at in its own test.
      if (name === 'rack') continue;
      if (name.startsWith('every plant')) {
        // Colour repeats what the shape of a dot says: as many shapes as colours.
        const dots = [...svg.matchAll(/<path [^>]*?d="([^"]+)" fill="(#[^"]+)"/g)];
        const pairs = new Set(dots.map(([, shape, colour]) => `${shape} ${colour}`));
        const shapes = new Set(dots.map(([, shape]) => shape));
        expect(new Set(dots.map(([, , colour]) => colour)).size).toBe(4);
        expect(pairs.size).toBe(shapes.size);
        continue;
      }
      const paints = [...svg.matchAll(/(?:fill|stroke)="([^"]*)"/g)].map(([, paint]) => paint);
      for (const paint of paints) {
        expect(['none', 'currentColor', 'var(--surface, #fff)', 'white']).toContain(paint);
      }
    }
  });

  it('of the rack has each plant’s mark as in the picture of every plant, and tells the other factor', () => {
    const size = { width: 680 };
    const rack = rackFigure(basil, findings, size)?.svg ?? '';
    const every = plantsFigure(findings, size)?.svg ?? '';
    const marks = (svg: string) => {
      const all = [...svg.matchAll(/fill="(#[0-9A-F]{6})"/g)].map(([, colour]) => colour ?? '');
      return new Map([...new Set(all)].map((c) => [c, all.filter((one) => one === c).length]));
    };
    const cultivars = ['#0072B2', '#E69F00', '#009E73', '#CC79A7'];
    for (const colour of cultivars) {
      // One more in each key.
      expect(marks(rack).get(colour)).toBe(marks(every).get(colour));
    }
    for (const ground of ['weak', 'medium', 'strong']) expect(rack).toContain(`${ground} (`);
    // Three trays of each feed, and its square in the key.
    for (const tint of ['#ffffff', '#dedede', '#bcbcbc']) {
      expect(rack.split(`fill="${tint}"`)).toHaveLength(5);
    }
  });

  it('of the rack shows the run in hand, where runs are taken together', () => {
    const size = { width: 680 };
    const of = (run: string): Findings => ({
      ...findings,
      pots: findings.pots.map((pot) => ({
        ...pot,
        id: `${pot.id} ${run}`,
        of: { potId: pot.id, run },
      })),
    });
    expect(rackFigure(basil, of('Run 1'), size)).toEqual(rackFigure(basil, findings, size));
    const other = rackFigure(basil, of('Run 2'), size)?.svg ?? '';
    // In the key alone.
    expect(other.split('fill="#0072B2"')).toHaveLength(2);
  });

  it('lead from a point to its pot on screen, and to nowhere in a file', () => {
    const shown = residualFigure(findings, { width: 400, links: true });
    const links = [...shown.svg.matchAll(/href="#pot:([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(links).size).toBe(findings.primary.result.n);
    expect(residualFigure(findings, { width: 400 }).svg).not.toContain('href');
  });
});
