import { mkdir, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { fingerprint } from '../../electron/services/files/fingerprint';
import { testShell } from './testShell';
import { tempFolder } from './tempFolder';

const copy = '3f0c1a52-6b7d-4e8f-9a01-23456789abcd';
const other = '3f0c1a52-6b7d-4e8f-9a01-23456789ffff';

/** A shell that has saved the text 'saved' under a.evenrack. */
async function withFile() {
  const folder = await tempFolder();
  const path = join(folder, 'a.evenrack');
  const shell = testShell(folder);
  shell.answers.push(path);
  const ref = await shell.handlers.saveAs({ suggestedName: 'a', text: 'saved', copy });
  if (!ref) throw new Error('not saved');
  return { folder, path, shell, ref };
}

test('unsaved work is there again after a restart, with the file it belongs to', async () => {
  const { folder, path, shell, ref } = await withFile();
  await shell.handlers.keepForRecovery({ copy, text: 'newer', ref });

  const restarted = testShell(folder);
  expect(await restarted.handlers.recoveries({})).toEqual([
    {
      copy,
      place: join(folder, 'recovery', `${copy}.json`),
      kept: expect.objectContaining({
        text: 'newer',
        ref,
        writtenAt: '2026-03-31T12:00:00.000Z',
      }) as unknown,
      file: { ref, text: 'saved', changedAt: expect.any(String) as string },
    },
  ]);
  // Recovered work may be saved to its file without choosing it again.
  await restarted.handlers.save({ ref, text: 'newer', copy });
  expect(await readFile(path, 'utf8')).toBe('newer');
});

test('every plan of every session has a copy of its own, kept until it is thrown away', async () => {
  const { folder, shell, ref } = await withFile();
  await shell.handlers.keepForRecovery({ copy, text: 'one', ref });
  await shell.handlers.keepForRecovery({ copy: other, text: 'two', ref: null });
  const texts = async () =>
    (await testShell(folder).handlers.recoveries({})).map(({ kept }) => kept?.text).sort();
  expect(await texts()).toEqual(['one', 'two']);
  // Looking at them, as a dialog that is left by Escape does, changes nothing.
  expect(await texts()).toEqual(['one', 'two']);
  await testShell(folder).handlers.forgetRecovery({ copy });
  expect(await texts()).toEqual(['two']);
});

test('saving forgets its own copy in the same step, and no other', async () => {
  const { folder, shell, ref } = await withFile();
  await shell.handlers.keepForRecovery({ copy, text: 'newer', ref });
  await shell.handlers.keepForRecovery({ copy: other, text: 'two', ref: null });
  await shell.handlers.save({ ref, text: 'newest', copy });
  expect(await readdir(join(folder, 'recovery'))).toEqual([`${other}.json`]);
});

test('a save that is refused keeps the copy, with what was to be saved', async () => {
  const { folder, path, shell, ref } = await withFile();
  await shell.handlers.keepForRecovery({ copy, text: 'mine', ref });
  await writeFile(path, 'theirs');
  expect(await shell.handlers.save({ ref, text: 'mine, saved', copy })).toMatchObject({
    kind: 'changed',
  });
  const [found] = await testShell(folder).handlers.recoveries({});
  expect(found).toMatchObject({ kept: { text: 'mine, saved' }, file: { text: 'theirs' } });
});

test('a copy cut off between saving and forgetting is no unsaved work', async () => {
  const { folder, path, shell, ref } = await withFile();
  await shell.handlers.keepForRecovery({ copy, text: 'newer', ref });
  await writeFile(path, 'newer');
  expect(await testShell(folder).handlers.recoveries({})).toEqual([]);
  expect(await readdir(join(folder, 'recovery'))).toEqual([]);
});

test('a kill in the middle of a save leaves no quarrel with oneself', async () => {
  const { folder, path, shell, ref } = await withFile();
  const saving = shell.handlers.save({ ref, text: 'second', copy });
  await shell.handlers.keepForRecovery({ copy, text: 'third', ref });
  await saving;
  // As a kill leaves it after the file is in place: the copy knows the former state alone.
  await shell.handlers.keepForRecovery({ copy, text: 'third', ref });
  const restarted = testShell(folder);
  const [found] = await restarted.handlers.recoveries({});
  if (!found?.kept?.ref) throw new Error('no copy');
  const again = await restarted.handlers.save({ ref: found.kept.ref, text: 'third', copy });
  expect(again.kind).toBe('saved');
  expect(await readFile(path, 'utf8')).toBe('third');
});

test('an edit that was kept while an older state was being saved stays kept', async () => {
  const { folder, shell, ref } = await withFile();
  await shell.handlers.keepForRecovery({ copy, text: 'first', ref });
  const saving = shell.handlers.save({ ref, text: 'second', copy });
  // Kept after the save has brought its copy up to date, before it has forgotten it.
  await shell.handlers.keepForRecovery({ copy, text: 'third', ref });
  await saving;
  const [found] = await testShell(folder).handlers.recoveries({});
  expect(found?.kept).toMatchObject({ text: 'third', ref: { seen: fingerprint('second') } });
});

test('a copy that cannot be read is named by its path and stays', async () => {
  const folder = await tempFolder();
  await mkdir(join(folder, 'recovery'));
  const place = join(folder, 'recovery', `${copy}.json`);
  for (const text of ['{"text":', '{"text":3,"ref":null}', '']) {
    await writeFile(place, text);
    expect(await testShell(folder).handlers.recoveries({})).toEqual([
      { copy, place, kept: null, file: null },
    ]);
    expect(await readFile(place, 'utf8')).toBe(text);
  }
});

test('the one copy of earlier versions is taken over', async () => {
  const folder = await tempFolder();
  const kept = { text: 'old work', ref: null, writtenAt: '2026-03-30T12:00:00Z' };
  await writeFile(join(folder, 'recovery.json'), JSON.stringify(kept));
  const [first] = await testShell(folder).handlers.recoveries({});
  expect(first?.kept).toEqual(kept);
  expect(await testShell(folder).handlers.recoveries({})).toEqual([first]);
});

test('recovery keeps the work but no path that was never chosen', async () => {
  const folder = await tempFolder();
  const ref = { key: join(folder, 'etc'), name: 'etc', seen: null };
  await testShell(folder).handlers.keepForRecovery({ copy, text: 'work', ref });
  const [found] = await testShell(folder).handlers.recoveries({});
  expect(found?.kept).toMatchObject({ text: 'work', ref: null });
});

test('recovery keeps the work where the folder of its file is gone', async () => {
  const folder = await tempFolder();
  const stick = join(folder, 'stick');
  await mkdir(stick);
  const shell = testShell(folder);
  shell.answers.push(join(stick, 'a.evenrack'));
  const ref = await shell.handlers.saveAs({ suggestedName: 'a', text: 'saved', copy });
  await rm(stick, { recursive: true });
  await shell.handlers.keepForRecovery({ copy, text: 'newer', ref });
  const [found] = await testShell(folder).handlers.recoveries({});
  expect(found).toMatchObject({ kept: { text: 'newer', ref: null }, file: null });
});

test('copies are written in the order in which they are asked for', async () => {
  const folder = await tempFolder();
  const shell = testShell(folder);
  const big = 'x'.repeat(2_000_000);
  await Promise.all([
    shell.handlers.keepForRecovery({ copy, text: big, ref: null }),
    shell.handlers.keepForRecovery({ copy, text: 'small', ref: null }),
  ]);
  expect(await shell.handlers.recoveries({})).toMatchObject([{ kept: { text: 'small' } }]);
  const last = shell.handlers.keepForRecovery({ copy, text: big, ref: null });
  await shell.handlers.forgetRecovery({ copy });
  await last;
  expect(await shell.handlers.recoveries({})).toEqual([]);
});

test('saving tells of a file that somebody else has changed, and overwrites it knowingly', async () => {
  const { path, shell, ref } = await withFile();
  await writeFile(path, 'theirs');
  await utimes(path, 1_700_000_000, 1_700_000_000);
  const refused = await shell.handlers.save({ ref, text: 'mine', copy });
  const theirs = { ...ref, seen: fingerprint('theirs') };
  expect(refused).toEqual({
    kind: 'changed',
    theirs: { ref: theirs, text: 'theirs', changedAt: '2023-11-14T22:13:20.000Z' },
  });
  expect(await readFile(path, 'utf8')).toBe('theirs');
  expect(await shell.handlers.save({ ref: theirs, text: 'mine', copy })).toMatchObject({
    kind: 'saved',
  });
  expect(await readFile(path, 'utf8')).toBe('mine');
});

test('a file that was only touched, has the same text already, or has gone is no conflict', async () => {
  const { path, shell, ref } = await withFile();
  await utimes(path, 1_700_000_000, 1_700_000_000);
  const first = await shell.handlers.save({ ref, text: 'one', copy });
  expect(first.kind).toBe('saved');
  await writeFile(path, 'two');
  expect((await shell.handlers.save({ ref, text: 'two', copy })).kind).toBe('saved');
  await rm(path);
  expect((await shell.handlers.save({ ref, text: 'three', copy })).kind).toBe('saved');
  expect(await readFile(path, 'utf8')).toBe('three');
});

test('a file that is no text any more is told without one', async () => {
  const { path, shell, ref } = await withFile();
  await writeFile(path, Buffer.from([0xff, 0xfe, 0x00]));
  expect(await shell.handlers.save({ ref, text: 'mine', copy })).toMatchObject({
    kind: 'changed',
    theirs: { text: null },
  });
});

test('the second window on one file hears of the first, until that one leaves or is gone', async () => {
  const { folder, shell, ref } = await withFile();
  const second = testShell(folder);
  second.answers.push(ref.key);
  await second.handlers.open({ kind: 'plan' });
  expect(await shell.handlers.holdFile({ ref })).toBe(true);
  expect(await second.handlers.holdFile({ ref })).toBe(false);
  await shell.handlers.holdFile({ ref: null });
  expect(await second.handlers.holdFile({ ref })).toBe(true);
  await second.handlers.holdFile({ ref: null });
  // The mark of a process that has gone; no process has the number 2^22 on Linux.
  const plan = fingerprint(ref.key).slice(0, 32);
  await writeFile(join(folder, 'open', `${plan}-4194304-abc`), '');
  expect(await shell.handlers.holdFile({ ref })).toBe(true);
  expect(await readdir(join(folder, 'open'))).toHaveLength(1);
});
