import { mkdir, readdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { fingerprint } from '../../electron/services/files/fingerprint';
import { testShell } from './testShell';
import { tempFolder } from './tempFolder';

const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';

test('saves a plan where the person chose, saves it again, and opens it as a recent one', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  const path = join(folder, 'radish.evenrack');
  shell.answers.push(path);
  const ref = await shell.handlers.saveAs({ suggestedName: 'radish.evenrack', text: 'one', copy });
  // NIST FIPS 180-4 defines the function; the figure is that of `sha256sum`.
  expect(ref).toEqual({
    key: path,
    name: 'radish.evenrack',
    seen: '7692c3ad3540bb803c020b3aee66cd8887123234ea0c6e7143c0add73ff431ed',
  });
  if (!ref) throw new Error('not saved');
  const seen = fingerprint('two');
  expect(await shell.handlers.save({ ref, text: 'two', copy })).toEqual({
    kind: 'saved',
    ref: { ...ref, seen },
  });
  expect(await readFile(path, 'utf8')).toBe('two');

  const restarted = testShell(folder);
  const [recent] = await restarted.handlers.recentPlans({});
  expect(recent).toEqual({ ref: { ...ref, seen: null }, openedAt: '2026-03-31T12:00:00.000Z' });
  const opened = await restarted.handlers.openRecent({ ref: { key: path, name: 'x', seen: null } });
  expect(opened).toEqual({ text: 'two', ref: { ...ref, seen } });
});

test('a cancelled dialogue changes nothing', async () => {
  const shell = testShell(await tempFolder());
  shell.answers.push(null, null, null, null);
  expect(await shell.handlers.open({ kind: 'plan' })).toBeNull();
  expect(await shell.handlers.saveAs({ suggestedName: 'a', text: 'b', copy })).toBeNull();
  expect(await shell.handlers.exportText({ suggestedName: 'a', kind: 'csv', text: 'b' })).toBe(
    false,
  );
  expect(await shell.handlers.savePdf({ suggestedName: 'a', html: 'b' })).toBe('cancelled');
  expect(await shell.handlers.recentPlans({})).toEqual([]);
});

test('refuses to write to a path that was never chosen', async () => {
  const folder = await tempFolder();
  const path = join(folder, 'other.evenrack');
  await writeFile(path, 'theirs');
  const shell = testShell(folder);
  const ref = { key: path, name: 'other.evenrack', seen: null };
  await expect(shell.handlers.save({ ref, text: 'ours', copy })).rejects.toThrow('was not chosen');
  await expect(shell.handlers.openRecent({ ref })).rejects.toThrow('recent plans');
  expect(await readFile(path, 'utf8')).toBe('theirs');
});

test('refuses to write to a path in whose place a link has been put', async () => {
  const folder = await tempFolder();
  const [path, victim] = [join(folder, 'a.evenrack'), join(folder, 'victim')];
  await writeFile(victim, 'theirs');
  const shell = testShell(folder);
  shell.answers.push(path);
  const ref = await shell.handlers.saveAs({ suggestedName: 'a', text: 'one', copy });
  if (!ref) throw new Error('not saved');
  await rm(path);
  await symlink(victim, path);
  await expect(shell.handlers.save({ ref, text: 'two', copy })).rejects.toThrow('now leads to');
  await expect(testShell(folder).handlers.openRecent({ ref })).rejects.toThrow('now leads to');
  expect(await readFile(victim, 'utf8')).toBe('theirs');
});

test('refuses a path whose folder has been exchanged for a link', async () => {
  const folder = await tempFolder();
  const [inside, outside] = [join(folder, 'trials'), join(folder, 'outside')];
  await mkdir(inside);
  await mkdir(outside);
  await writeFile(join(outside, 'a.evenrack'), 'theirs');
  const shell = testShell(folder);
  shell.answers.push(join(inside, 'a.evenrack'));
  const ref = await shell.handlers.saveAs({ suggestedName: 'a', text: 'one', copy });
  if (!ref) throw new Error('not saved');
  await rename(inside, join(folder, 'moved'));
  await symlink(outside, inside);
  await expect(shell.handlers.save({ ref, text: 'two', copy })).rejects.toThrow('now leads to');
  expect(await readFile(join(outside, 'a.evenrack'), 'utf8')).toBe('theirs');
});

test('a plan opened through a link is saved to the file that the link leads to', async () => {
  const folder = await tempFolder();
  const [real, link] = [join(folder, 'real.evenrack'), join(folder, 'link.evenrack')];
  await writeFile(real, 'one');
  await symlink(real, link);
  const shell = testShell(folder);
  shell.answers.push(link);
  const opened = await shell.handlers.open({ kind: 'plan' });
  const ref = { key: real, name: 'real.evenrack', seen: fingerprint('one') };
  expect(opened).toEqual({ text: 'one', ref });
  if (opened) await shell.handlers.save({ ref: opened.ref, text: 'two', copy });
  expect(await readFile(link, 'utf8')).toBe('two');
  expect(await readFile(real, 'utf8')).toBe('two');
});

test('says why a file cannot be opened or saved', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  const missing = join(folder, 'missing.evenrack');
  const noFolder = join(folder, 'none', 'a.evenrack');
  shell.answers.push(missing, noFolder);
  await expect(shell.handlers.open({ kind: 'plan' })).rejects.toThrow(
    `${missing}: cannot be read, there is no such file or folder`,
  );
  await expect(shell.handlers.saveAs({ suggestedName: 'a', text: 'b', copy })).rejects.toThrow(
    `${noFolder}: there is no such file or folder`,
  );
});

test.each(['table', 'lamp'] as const)(
  'a %s in Windows-1252 or UTF-16 keeps its signs; a plan must be UTF-8',
  async (kind) => {
    const folder = await tempFolder();
    const shell = testShell(folder);
    const windows = join(folder, 'windows.txt');
    await writeFile(windows, Buffer.from([0x54, 0xf6, 0x70, 0x66, 0x65, 0x20, 0x96, 0x20, 0x80]));
    const wide = join(folder, 'wide.txt');
    await writeFile(wide, '\uFEFFTöpfe – €', 'utf16le');
    for (const path of [windows, wide]) {
      shell.answers.push(path, path);
      expect((await shell.handlers.open({ kind }))?.text).toBe('Töpfe – €');
      await expect(shell.handlers.open({ kind: 'plan' })).rejects.toThrow('not text in UTF-8');
    }
  },
);

test('the list of recent plans holds each once, newest first, and not without end', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  for (let i = 0; i < 15; i++) {
    shell.answers.push(join(folder, `${i}.evenrack`));
    await shell.handlers.saveAs({ suggestedName: 'a', text: 'b', copy });
  }
  shell.answers.push(join(folder, '10.evenrack'));
  await shell.handlers.open({ kind: 'plan' });
  const names = (await shell.handlers.recentPlans({})).map(({ ref }) => ref.name);
  expect(names.slice(0, 3)).toEqual(['10.evenrack', '14.evenrack', '13.evenrack']);
  expect(names).toHaveLength(12);
  expect(new Set(names).size).toBe(12);
});

test('a broken list of recent plans is an empty one', async () => {
  const folder = await tempFolder();
  await writeFile(join(folder, 'recent-plans.json'), '[{"path": 3}]');
  expect(await testShell(folder).handlers.recentPlans({})).toEqual([]);
});

test('a table opened or exported does not become a recent plan', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  const path = join(folder, 'a.csv');
  shell.answers.push(path, path);
  expect(await shell.handlers.exportText({ suggestedName: 'a', kind: 'csv', text: 'x\n1\n' })).toBe(
    true,
  );
  expect(await shell.handlers.open({ kind: 'table' })).toEqual({
    text: 'x\n1\n',
    ref: { key: path, name: 'a.csv', seen: fingerprint('x\n1\n') },
  });
  expect(await shell.handlers.recentPlans({})).toEqual([]);
});

test('a table in another encoding is written byte by byte', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  const path = join(folder, 'a.csv');
  shell.answers.push(path);
  const every = Array.from({ length: 256 }, (_, i) => i);
  const text = String.fromCharCode(...every);
  await shell.handlers.exportText({ suggestedName: 'a', kind: 'csv', text, bytes: true });
  expect([...(await readFile(path))]).toEqual(every);
});

test('prints, and saves a PDF where the person chose', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  await shell.handlers.print({ html: '<p>chart</p>' });
  expect(shell.printed).toEqual(['<p>chart</p>']);
  shell.answers.push(join(folder, 'chart.pdf'));
  expect(await shell.handlers.savePdf({ suggestedName: 'chart.pdf', html: 'x' })).toBe('saved');
  expect(await readFile(join(folder, 'chart.pdf'), 'utf8')).toBe('pdf of x');
});

test('a plan that the system names is opened and may be saved again', async () => {
  const folder = await tempFolder();
  const path = join(folder, 'a.evenrack');
  await writeFile(path, 'one');
  const shell = testShell(folder);
  const { text, ref } = await shell.openFromSystem(path);
  expect(text).toBe('one');
  await shell.handlers.save({ ref, text: 'two', copy });
  expect(await readFile(path, 'utf8')).toBe('two');
});

test('a file that nobody chose is not said to be open, whatever the window says', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  const ref = { key: join(folder, 'secret.txt'), name: 'secret.txt', seen: null };
  expect(await shell.handlers.holdFile({ ref })).toBe(true);
  await expect(readdir(join(folder, 'open'))).rejects.toThrow('ENOENT');
});
