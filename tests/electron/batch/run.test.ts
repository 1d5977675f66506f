import { link, lstat, readdir, readFile, symlink, writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { expect, test } from 'vitest';
import { Refusal } from '../../../renderer/words';
import { BatchError } from '../../../electron/batch/batchError';
import { writeFolder } from '../../../electron/batch/output';
import { runBatch } from '../../../electron/batch/run';
import { Text } from '../../../electron/batch/verb';
import type { Verb } from '../../../electron/batch/verb';
import { engineVersion } from '../../../renderer/derive';
import { tempFolder } from '../tempFolder';

const verb = (name: string, run: Verb['run'], more: Partial<Verb> = {}): Verb => ({
  name,
  gives: `What ${name} gives.`,
  takes: [],
  options: {},
  run,
  ...more,
});

const verbs: Verb[] = [
  verb(
    'echo',
    (args) => ({ plan: args.positional('PLAN'), seed: args.needed('seed'), csv: args.flag('csv') }),
    {
      takes: ['PLAN'],
      options: { seed: { value: 'TEXT', needed: true }, csv: 'flag' },
    },
  ),
  verb('table', () => new Text('a,b\n1,2\n')),
  verb('refuse', () => {
    throw new BatchError('plan.json, title', 'found 3', 'expected text');
  }),
  verb('impossible', () => {
    throw new Refusal('column "x": found\n  nothing; expected a number');
  }),
  verb('mistake', () => {
    throw new TypeError('x is not a function');
  }),
  verb('infinite', () => ({ a: [1, Number.NaN] })),
  verb('reads', () => 1, { options: { table: { value: 'FILE', needed: true, reads: true } } }),
  verb('folder', (args) => ({ filled: args.optional('out') }), {
    options: { out: { value: 'FOLDER', needed: true } },
  }),
];

const systemError = (code: string): Error => Object.assign(new Error(`${code}: no`), { code });

async function call(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runBatch(words, verbs, {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  return { code, out, err };
}

test('gives one JSON document and exit code 0', async () => {
  const { code, out, err } = await call('echo', 'a.json', '--seed', '--7', '--csv');
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(JSON.parse(out)).toEqual({ plan: 'a.json', seed: '--7', csv: true });
  expect((await call('echo', '--seed=x=y', 'a.json')).out).toContain('"x=y"');
});

test('gives a text as it is', async () => {
  expect(await call('table')).toEqual({ code: 0, out: 'a,b\n1,2\n', err: '' });
});

test.each([
  [['none'], 'none: no such verb; expected one of help, echo, table, '],
  [
    ['echo', 'a', '--seed', 'x', '--sed', 'y'],
    '--sed: echo has no such option; expected --seed, --csv, --out',
  ],
  [['echo', 'a'], '--seed: not given; TEXT is expected'],
  [['echo', 'a', '--seed'], '--seed: no value follows it; TEXT is expected'],
  [['echo', 'a', '--seed', 'x', '--seed', 'y'], '--seed: given twice; expected once'],
  [['echo', 'a', '--seed', 'x', '--csv=yes'], '--csv: given a value; expected without one'],
  [
    ['echo', '--seed', 'x'],
    'echo: found 0 arguments; expected echo PLAN --seed TEXT [--csv] [--out FILE]',
  ],
  [['echo', 'a', 'b', '--seed', 'x'], 'echo: found 2 arguments (a b); expected echo PLAN '],
  [['refuse'], 'plan.json, title: found 3; expected text'],
  [['impossible'], 'column "x": found nothing; expected a number'],
  [['folder'], '--out: not given; FOLDER is expected'],
])('bad input %j: exit code 2, one line, nothing on standard output', async (words, says) => {
  const { code, out, err } = await call(...words);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err.startsWith(says)).toBe(true);
  expect(err.match(/\n/g)).toHaveLength(1);
  expect(err.endsWith('\n')).toBe(true);
});

test('a mistake in the program is not passed off as bad input', async () => {
  await expect(call('mistake')).rejects.toThrow(TypeError);
});

test('a result never holds a number that is none', async () => {
  await expect(call('infinite')).rejects.toThrow('1 is NaN');
});

test('--out writes the whole result to the file and nothing to standard output', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'result.csv');
  expect(await call('table', '--out', file)).toEqual({ code: 0, out: '', err: '' });
  expect(await readFile(file, 'utf8')).toBe('a,b\n1,2\n');
});

test('--out writes what a link leads to, and refuses a device', async () => {
  const folder = await tempFolder();
  const [file, link] = [join(folder, 'real.csv'), join(folder, 'link.csv')];
  await writeFile(file, 'old');
  await symlink(file, link);
  expect((await call('table', '--out', link)).code).toBe(0);
  expect(await readFile(file, 'utf8')).toBe('a,b\n1,2\n');
  expect((await lstat(link)).isSymbolicLink()).toBe(true);
  const { code, err } = await call('table', '--out', '/dev/null');
  expect(code).toBe(2);
  expect(err).toContain('--out /dev/null: cannot be written, it is a folder or device');
});

test('--out that cannot be is refused before the work is done', async () => {
  const folder = await tempFolder();
  await symlink(join(folder, 'gone'), join(folder, 'link'));
  for (const [out, says] of [
    [folder, 'it is a folder or device'],
    [join(folder, 'none', 'a'), 'there is no such file or folder'],
    [join(folder, 'link'), 'is a link that leads nowhere'],
  ]) {
    const { code, err } = await call('mistake', '--out', out ?? '');
    expect(code).toBe(2);
    expect(err).toContain(says);
  }
});

test('--out leaves no file behind when the input is bad or the folder is missing', async () => {
  const folder = await tempFolder();
  expect((await call('refuse', '--out', join(folder, 'a.json'))).code).toBe(2);
  const { code, err } = await call('table', '--out', join(folder, 'none', 'a.csv'));
  expect(code).toBe(2);
  expect(err).toContain('cannot be written, there is no such file or folder; ');
  expect(await readdir(folder)).toEqual([]);
});

test.each(['plain', 'relative', 'symlink', 'hardlink'])(
  '--out is never the input: %s',
  async (spelling) => {
    const folder = await tempFolder();
    const [input, other] = [join(folder, 'in.json'), join(folder, 'other.json')];
    await writeFile(input, 'mine');
    if (spelling === 'symlink') await symlink(input, other);
    if (spelling === 'hardlink') await link(input, other);
    const out = { plain: input, relative: relative('.', input) }[spelling] ?? other;
    const { code, err } = await call('echo', input, '--seed', 'x', '--out', out);
    expect({ code, err }).toEqual({
      code: 2,
      err: `--out ${out}: is the input ${input}; another name is expected; inputs are never overwritten\n`,
    });
    expect(await readFile(input, 'utf8')).toBe('mine');
  },
);

test('--out may be an old result, also one beside the input or named like a text option', async () => {
  const folder = await tempFolder();
  const [input, old] = [join(folder, 'in.json'), join(folder, 'old.json')];
  await writeFile(input, 'mine');
  await writeFile(old, 'old');
  expect((await call('echo', input, '--seed', old, '--out', old)).code).toBe(0);
  expect(await readFile(old, 'utf8')).toContain('"seed"');
});

test('--out is no file that an option reads, nor a table of a folder that it reads', async () => {
  const folder = await tempFolder();
  const table = join(folder, 'a.csv');
  await writeFile(table, 'mine');
  for (const read of [table, folder]) {
    const { code, err } = await call('reads', '--table', read, '--out', table);
    expect(code).toBe(2);
    expect(err).toContain(`is the input ${table}`);
  }
  expect((await call('reads', '--table', folder, '--out', join(folder, 'b.json'))).code).toBe(0);
  expect(await readFile(table, 'utf8')).toBe('mine');
});

test('a folder of results never takes the input in', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'a.html'), 'mine');
  const target = { option: 'report', path: folder };
  const contents = new Map([['a.html', 'theirs']]);
  const inputs = [join(folder, 'a.html')];
  await expect(writeFolder(target, contents, { inputs })).rejects.toThrow('is the input');
  await writeFolder(target, contents, { inputs: [join(folder, 'b.html')] });
  expect(await readFile(join(folder, 'a.html'), 'utf8')).toBe('theirs');
});

// Folders under /proc cannot be made; asked for all at once, Node 20 never returned.
test.runIf(process.platform === 'linux')('a folder under /proc is refused at once', async () => {
  const target = { option: 'report', path: '/proc/evenrack/report' };
  await expect(writeFolder(target, new Map([['a', 'b']]), { inputs: [] })).rejects.toThrow(
    /^--report \/proc\/evenrack\/report: cannot be written, /,
  );
});

test.each([
  ['a file that is not there', () => readFile('/nowhere/a'), '/nowhere/a: there is no such file'],
  ['a file that may not be had', () => Promise.reject(systemError('EPERM')), 'this account may'],
  ['a trouble nobody has met', () => Promise.reject(systemError('EDOM')), 'the system refuses it'],
])('the system speaks in words: %s', async (_what, run, says) => {
  const broken = verb('broken', run);
  let err = '';
  const streams = { out: () => undefined, err: (text: string) => void (err += text) };
  expect(await runBatch(['broken'], [broken], streams)).toBe(2);
  expect(err).toContain(says);
  expect(err).not.toMatch(/EPERM|ENOENT|Error:/);
});

test.each(['-h', '--help', '--version'])('%s answers everywhere', async (word) => {
  for (const words of [[word], ['echo', word], ['echo', 'a', '--csv', word], ['nosuch', word]]) {
    const { code, out, err } = await call(...words);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain(word === '--version' ? `Evenrack ${engineVersion}` : 'echo PLAN');
  }
  expect((await call('table', word)).out.includes('echo')).toBe(false);
});

test('what follows an option is its value unless it is an option, and what follows -- is none', async () => {
  expect((await call('echo', 'a', '--seed', '-1')).out).toContain('"-1"');
  expect((await call('echo', 'a', '--seed=--csv')).out).toContain('"--csv"');
  for (const option of ['--csv', '--out', '--help', '-h']) {
    const { code, err } = await call('echo', 'a', '--seed', option);
    expect(code).toBe(2);
    expect(err).toContain(`--seed: the option ${option} follows it; TEXT is expected`);
  }
  expect((await call('echo', '--seed', 'x', '--', '--csv')).out).toContain('"plan": "--csv"');
  expect((await call('echo', 'a', '-x', '--seed', 'y')).err).toContain('-x: echo has no such');
});

test('a verb with an --out of its own fills it itself', async () => {
  expect(JSON.parse((await call('folder', '--out', 'charts')).out)).toEqual({ filled: 'charts' });
});

test('help lists every verb with its usage', async () => {
  const { code, out } = await call('help');
  expect(code).toBe(0);
  for (const { name } of verbs) expect(out).toMatch(new RegExp(`^ {2}${name} .*--out`, 'm'));
  expect(out).toContain('echo PLAN --seed TEXT [--csv] [--out FILE]');
  expect(await call()).toEqual({ code: 0, out, err: '' });
  expect((await call('help', 'echo')).out).toBe((await call('echo', '--help')).out);
  expect((await call('help', 'nosuch')).err).toMatch(/^nosuch: no such verb; expected one of help/);
});
