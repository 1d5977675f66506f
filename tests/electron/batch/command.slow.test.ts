import { spawn, spawnSync } from 'node:child_process';
import { mkdir, open, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { tempFolder } from '../tempFolder';

const root = join(import.meta.dirname, '../../..');

/** As npm calls it: in the project's folder, and told where the person stands. */
const env = (place: string): NodeJS.ProcessEnv => ({
  ...process.env,
  npm_lifecycle_event: 'batch',
  INIT_CWD: place,
});

function batch(place: string, words: string[], stdout: 'pipe' | number = 'pipe') {
  return spawnSync(process.execPath, ['build/batch.mjs', ...words], {
    cwd: root,
    encoding: 'utf8',
    env: env(place),
    stdio: ['ignore', stdout, 'pipe'],
  });
}

test('fit from the shell, by paths from where one stands: two groups of three, where F is the square of t', async () => {
  const folder = await tempFolder();
  await writeFile(
    join(folder, 'request.json'),
    JSON.stringify({ response: 'weight', treatments: ['medium'] }),
  );
  // Means 2 and 4, variance 1 within each: t² = 2² / (1 · (1/3 + 1/3)) = 6 on 4 df.
  await writeFile(
    join(folder, 'table.csv'),
    'medium,weight\nbark,1\nbark,2\nbark,3\nclay,3\nclay,4\nclay,5\n',
  );
  const { status, stdout, stderr } = batch(folder, ['fit', 'request.json', '--table', 'table.csv']);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  const [term] = (JSON.parse(stdout) as { terms: { statistic: number; dfError: number }[] }).terms;
  expect(term?.statistic).toBeCloseTo(6, 10);
  expect(term?.dfError).toBe(4);
});

test('bad input from the shell: exit code 2, one line, no trace', () => {
  const { status, stdout, stderr } = batch(root, ['fit', '/nowhere.json', '--table', 'x.csv']);
  expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
  expect(stderr).toBe(
    '/nowhere.json: cannot be read, there is no such file or folder; a fit request is expected\n',
  );
});

test('files that are built to exhaust the memory are refused within 256 MB of it, in one line', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'deep.json'), '['.repeat(40_000_000));
  await writeFile(join(folder, 'wide.csv'), `a,b\n${',1'.repeat(10_000_000)}\n`);
  const plan = join(root, 'renderer/app/examples/basil.json');
  for (const words of [
    ['fit', 'deep.json', '--table', 'wide.csv'],
    ['record', plan, '--table', 'wide.csv', '--out', 'new'],
  ]) {
    const { status, stderr } = spawnSync(process.execPath, ['build/batch.mjs', ...words], {
      cwd: root,
      encoding: 'utf8',
      env: { ...env(folder), NODE_OPTIONS: '--max-old-space-size=256' },
    });
    expect({ status, lines: stderr.trim().split('\n').length }).toEqual({ status: 2, lines: 1 });
  }
});

test.runIf(process.platform === 'linux')('a full disk is said in a sentence', async () => {
  const full = await open('/dev/full', 'w');
  const { status, stderr } = batch(root, ['--version'], full.fd);
  await full.close();
  expect({ status, stderr }).toEqual({
    status: 2,
    stderr: 'output: cannot be written, the disk is full; room for all of it is expected\n',
  });
});

test.runIf(process.platform === 'linux')(
  'a signal ends it and its browser, and leaves nothing behind',
  async () => {
    const folder = await tempFolder();
    const [temp, out] = [join(folder, 'temp'), join(folder, 'out')];
    await mkdir(temp);
    const browser = join(folder, 'browser.sh');
    await writeFile(browser, `#!/bin/sh\necho $$ > '${folder}/pid'\nsleep 100\n`, { mode: 0o755 });
    const child = spawn(
      process.execPath,
      ['build/batch.mjs', 'print', 'renderer/app/examples/basil.json', '--out', out],
      {
        cwd: root,
        env: { ...env(root), EVENRACK_BROWSER: browser, TMPDIR: temp },
        stdio: 'ignore',
      },
    );
    const ended = new Promise((resolve) => child.on('exit', (_code, signal) => resolve(signal)));
    const pid = await contentOf(join(folder, 'pid'));
    expect(await readdir(temp)).toHaveLength(1);
    child.kill('SIGTERM');
    expect(await ended).toBe('SIGTERM');
    expect(await readdir(temp)).toEqual([]);
    expect((await readdir(folder)).sort()).toEqual(['browser.sh', 'pid', 'temp']);
    expect(await runs(pid)).toBe(false);
  },
);

/** Whether a process is at work; one that has ended and whose end nobody has heard of is not. */
async function runs(pid: number): Promise<boolean> {
  const state = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => ') Z');
  return !/\) Z/.test(state);
}

/** The number in a file that somebody is about to write. */
async function contentOf(file: string): Promise<number> {
  for (;;) {
    const text = await readFile(file, 'utf8').catch(() => '');
    if (text.endsWith('\n')) return Number(text);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
