import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { runBatch } from '../../electron/batch/run';
import { optionFor } from '../../electron/batch/printAsked';
import { printVerb } from '../../electron/batch/verbs/print';
import { defaultOptions } from '../../renderer/print';
import { writeCompact } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';
import { drawnPlan, samplePlan } from '../builders/samplePlan';
import { tempFolder } from '../electron/tempFolder';

afterEach(() => void vi.unstubAllEnvs());

async function run(plan: Plan, ...words: string[]) {
  const folder = await tempFolder();
  const path = join(folder, 'plan.json');
  await writeFile(path, writeCompact(plan));
  const out = join(folder, 'new', 'prints');
  let [text, trouble] = ['', ''];
  const code = await runBatch(['print', path, '--out', out, ...words], [printVerb], {
    out: (said) => (text += said),
    err: (said) => (trouble += said),
  });
  return { code, text, trouble, out, path, folder };
}

function barePots(): Plan {
  const plan = samplePlan();
  if (!plan.trial) throw new Error('the sample has a trial');
  return { ...plan, trial: { ...plan.trial, factors: [] } };
}

test('without a browser the HTML is written and it says so', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const { code, text, out } = await run(drawnPlan());
  expect(code).toBe(0);
  const result = JSON.parse(text) as { files: { what: string; pages: number; pdf: null }[] };
  const names = result.files.map(({ what }) => `${what}.html`).sort();
  expect(names).toContain('labels.html');
  expect(readdirSync(out).sort()).toEqual(names);
  expect(result.files.every(({ pdf, pages }) => pdf === null && pages > 0)).toBe(true);
  expect(result).toMatchObject({
    paper: 'A4',
    seed: 'seven herons',
    remarks: [expect.stringContaining('no PDF')],
  });
});

test('with a browser every PDF has the pages that the answer states, on Letter', async () => {
  // Of bare pots there are fewer documents, each of which starts a browser.
  const { code, text } = await run(barePots(), '--paper', 'Letter');
  expect(code).toBe(0);
  const { files } = JSON.parse(text) as { files: { pages: number; pdf: string }[] };
  expect(files.length).toBeGreaterThan(2);
  for (const { pdf, pages } of files) {
    const info = execFileSync('pdfinfo', [pdf], { encoding: 'utf8' });
    expect(info).toMatch(new RegExp(`^Pages: +${pages}$`, 'm'));
    // ANSI/ASME Y14.1: 8.5 × 11 in, 72 points an inch, either way round.
    expect(info).toMatch(/^Page size: +(612 x 792|792 x 612) pts/m);
  }
}, 120_000);

test('a plan that is not drawn is bad input, and nothing is written', async () => {
  const { code, text, trouble, out, path } = await run(samplePlan());
  expect({ code, text }).toEqual({ code: 2, text: '' });
  expect(trouble).toBe(
    `${path}, layout: found a trial that is not drawn; a drawn layout is expected; draw it first\n`,
  );
  expect(existsSync(out)).toBe(false);
});

test('a trial without factors needs no layout: charts, labels and sheets of bare pots', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const { code, out } = await run(barePots());
  expect(code).toBe(0);
  expect(readdirSync(out)).toContain('recording-sheets.html');
});

test('a folder that cannot be made is named at once, and none of the way to it is left', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const folder = await tempFolder();
  const [path, file] = [join(folder, 'plan.json'), join(folder, 'taken')];
  await writeFile(path, writeCompact(drawnPlan()));
  await writeFile(file, 'here already');
  // Where the system has such folders, no program can make another in them.
  const never = process.platform === 'linux' ? '/proc/none/prints' : join(file, 'none', 'prints');
  for (const out of [join(file, 'prints'), never]) {
    let said = '';
    const code = await runBatch(['print', path, '--out', out], [printVerb], {
      out: () => undefined,
      err: (text) => (said += text),
    });
    expect(code).toBe(2);
    expect(said).toContain(`--out ${out}: cannot be written, `);
    expect(said.trimEnd()).not.toContain('\n');
  }
});

test('where one file cannot be written, none is left', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const folder = await tempFolder();
  const path = join(folder, 'plan.json');
  await writeFile(path, writeCompact(drawnPlan()));
  const out = join(folder, 'prints');
  await mkdir(join(out, 'recording-sheets.html'), { recursive: true });
  const streams = { out: () => undefined, err: () => undefined };
  expect(await runBatch(['print', path, '--out', out], [printVerb], streams)).toBe(2);
  expect(readdirSync(out)).toEqual(['recording-sheets.html']);
  // What was printed there before stays, though its place in the row comes first.
  const before = join(out, 'tray-charts.html');
  await writeFile(before, 'printed before');
  expect(await runBatch(['print', path, '--out', out], [printVerb], streams)).toBe(2);
  expect(readFileSync(before, 'utf8')).toBe('printed before');
  expect(readdirSync(out).sort()).toEqual(['recording-sheets.html', 'tray-charts.html']);
});

test('a layout without pots is bad input', async () => {
  const plan = drawnPlan();
  const { code, trouble, path } = await run({
    ...plan,
    layout: plan.layout && { ...plan.layout, assignments: [] },
  });
  expect(code).toBe(2);
  expect(trouble).toBe(`${path}, layout: found no pots in it; a drawn pot is expected\n`);
});

test('names are written as they are and never run', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const plan = drawnPlan();
  const evil = '</title></style></text><script>alert(1)</script><img src=x onerror=alert(2)>';
  if (!plan.trial || !plan.layout) throw new Error('the sample is drawn');
  const { code, out } = await run({
    ...plan,
    title: evil,
    trial: {
      ...plan.trial,
      measurements: plan.trial.measurements.map((m) => ({ ...m, name: evil, unit: '<b>g</b>' })),
      factors: plan.trial.factors.map((factor, i) => ({
        ...factor,
        name: `${evil}${i}`,
        levels: factor.levels.map((level) => ({ ...level, name: `${level.id} ${evil}` })),
      })),
    },
    layout: {
      ...plan.layout,
      seed: evil,
      assignments: plan.layout.assignments.map((a) => ({ ...a, plant: '<u>"P\'</u>' })),
    },
  });
  expect(code).toBe(0);
  for (const name of readdirSync(out)) {
    const html = readFileSync(join(out, name), 'utf8');
    expect(html, name).not.toMatch(/<script|<img|<u>|<b>/);
    expect(html.match(/<\/title>|<\/style>/g), name).toHaveLength(2);
  }
});

test('a paper or folder that cannot be used is named', async () => {
  const { trouble } = await run(drawnPlan(), '--paper', 'A5');
  expect(trouble).toBe('--paper: found A5; expected A4 or Letter\n');
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const folder = await tempFolder();
  const [path, file] = [join(folder, 'plan.json'), join(folder, 'taken')];
  await writeFile(path, writeCompact(drawnPlan()));
  await writeFile(file, 'here already');
  let said = '';
  const code = await runBatch(['print', path, '--out', file], [printVerb], {
    out: () => undefined,
    err: (text) => (said += text),
  });
  expect(code).toBe(2);
  expect(said).toBe(`--out ${file}: is a file; a folder is expected\n`);
});

test('what the screen offers is taken: measurements, symbols, cells, the printer, from behind', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const words = [
    ...['--what', 'labels,tray-charts,recording-sheets', '--measurements', 'harvest', '--behind'],
    ...['--symbol', 'none', '--show', 'pot', '--first-cell', '3'],
    ...['--shift-right', '1.5', '--shift-down', '-0.5', '--log', '--no-previous'],
  ];
  const { code, out } = await run(drawnPlan(), ...words);
  expect(code).toBe(0);
  const html = (name: string) => readFileSync(join(out, `${name}.html`), 'utf8');
  expect(html('labels')).toContain('translate(1.5 -0.5)');
  expect(html('labels')).not.toContain('evenodd');
  expect(html('tray-charts')).toContain('BACK – you stand here');
  expect(html('recording-sheets')).toContain('Recording sheet, harvest');
  expect(html('recording-sheets')).not.toContain('Recording sheet, start');
  for (const [option, value, trouble] of [
    ['--symbol', 'bar', '--symbol: found bar; expected one of qr, data-matrix, none\n'],
    ['--shift-down', '11', '--shift-down: found 11; expected -10 to 10 mm\n'],
    ['--first-cell', 'x', '--first-cell: found x; expected a number\n'],
  ] as const) {
    expect(await run(drawnPlan(), option, value)).toMatchObject({ code: 2, trouble });
  }
});

test('each choice of the screen has an option here, and each option changes what is printed', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const screen = defaultOptions('A4');
  const { labels, printer, ...rest } = screen;
  const chosen = Object.keys({ ...rest, ...labels, ...printer });
  expect(Object.keys(optionFor).sort()).toEqual(chosen.sort());
  expect(Object.keys(printVerb.options)).toEqual(
    expect.arrayContaining(Object.values<string>(optionFor)),
  );
  const printed = (words: readonly string[]) => allPages(words).then((html) => html.join(''));
  const usual = await printed([]);
  const values: Record<(typeof optionFor)[keyof typeof optionFor], string | null> = {
    paper: 'Letter',
    blinded: null,
    behind: null,
    log: null,
    'no-previous': null,
    measurements: 'harvest',
    trays: '1A',
    labels: 'stakes',
    show: 'pot',
    symbol: 'none',
    'first-cell': '4',
    'scale-across': '98',
    'scale-down': '99',
    'shift-right': '1',
    'shift-down': '-1',
  };
  for (const [option, value] of Object.entries(values)) {
    const words = value === null ? [`--${option}`] : [`--${option}`, value];
    expect((await printed(words)) === usual, option).toBe(false);
  }
});

/** The pages of a planted and measured plan with a log. */
async function allPages(words: readonly string[]): Promise<string[]> {
  const plan = drawnPlan();
  const [first] = plan.layout?.assignments ?? [];
  const start = plan.trial?.measurements.find(({ timepoint }) => timepoint === 'start');
  if (!first || !start) throw new Error('the sample is drawn and measured at the start');
  const records = {
    ...plan.records,
    values: { [start.id]: { [first.potId]: 3.5 } },
    incidents: [{ id: 'i1', date: '2026-03-19', text: 'The pump failed.', about: [] }],
  };
  const { code, out, trouble } = await run({ ...plan, records }, ...words);
  expect([code, trouble]).toEqual([0, '']);
  return readdirSync(out).map((name) => readFileSync(join(out, name), 'utf8'));
}

test('a sheet of labels by its own figures, and a printer that prints smaller than it is told', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const sheet = { columns: 2, rows: 4, widthMm: 99, heightMm: 67, leftMm: 5, topMm: 13 };
  const own = ['--what', 'labels', '--labels', JSON.stringify(sheet)];
  const { out } = await run(drawnPlan(), ...own, '--scale-across', '98', '--scale-down', '97.5');
  const html = readFileSync(join(out, 'labels.html'), 'utf8');
  // 100 / 98 and 100 / 97.5.
  expect(html).toContain('scale(1.020408, 1.025641)');
  expect(html.match(/class="page whole/g)).toHaveLength(2);
  for (const [option, value, trouble] of [
    ['--scale-down', '89', '--scale-down: found 89; expected 90 to 110 %\n'],
    ['--labels', '{"columns":2}', /^--labels, rows: found nothing; expected/],
    [
      ...['--labels', JSON.stringify({ ...sheet, widthMm: 120 })],
      /^labels: the grid is 35 mm wider than A4/,
    ],
  ] as const) {
    const refused = await run(drawnPlan(), '--what', 'labels', option ?? '', `${value}`);
    expect(refused.code).toBe(2);
    if (typeof trouble === 'string') expect(refused.trouble).toBe(trouble);
    else expect(refused.trouble).toMatch(trouble ?? '');
  }
});

test('labels of positions alone need no layout', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const { code, out } = await run({ ...samplePlan(), trial: null }, '--what', 'labels');
  expect(code).toBe(0);
  expect(readdirSync(out)).toEqual(['labels.html']);
});

test('prints of the trays asked for, with labels of the sheet asked for, and at true size', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const words = ['--trays', '2a', '--labels', 'A4-3x8-70x36', '--true-size'];
  const { code, out, text } = await run(drawnPlan(), ...words);
  expect(code).toBe(0);
  const { files } = JSON.parse(text) as { files: { what: string }[] };
  expect(files.map(({ what }) => what)).toContain('true-size');
  for (const name of ['tray-charts', 'labels', 'true-size']) {
    const html = readFileSync(join(out, `${name}.html`), 'utf8');
    expect([name, /2A/.test(html), /1A-|Tray 1A/.test(html)]).toEqual([name, true, false]);
  }
  // The sheet asked for is another than the usual one.
  const usual = await run(drawnPlan(), '--trays', '2A', '--what', 'labels');
  const [asked, plain] = [out, usual.out].map((at) =>
    readFileSync(join(at, 'labels.html'), 'utf8'),
  );
  expect(asked).not.toBe(plain);
  for (const [option, value, expected] of [
    ['--trays', '9Z', '--trays: found 9Z; expected one or more of 1A, 2A\n'],
    ['--labels', 'Letter-stakes', /^--labels: found Letter-stakes; expected one of A4-plain, /],
  ] as const) {
    const refused = await run(drawnPlan(), option, value);
    expect(refused.code).toBe(2);
    if (typeof expected === 'string') expect(refused.trouble).toBe(expected);
    else expect(refused.trouble).toMatch(expected);
  }
});
