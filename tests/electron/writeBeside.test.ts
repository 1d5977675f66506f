import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import type * as fs from 'node:fs/promises';
import {
  chmod,
  mkdir,
  open,
  readdir,
  readFile,
  stat,
  symlink,
  utimes,
  writeFile,
} from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { bundleForNode } from '../../build/lib/bundle.mjs';
import { writeBeside } from '../../electron/services/files/writeBeside';
import { tempFolder } from './tempFolder';

test('writes a new file and replaces an old one, leaving nothing beside', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  await writeBeside(file, 'one');
  await writeBeside(file, new TextEncoder().encode('zwei Töpfe'));
  expect(await readFile(file, 'utf8')).toBe('zwei Töpfe');
  expect(await readdir(folder)).toEqual(['plan.evenrack']);
});

test('a name as long as the disk allows is written, one sign more is refused', async () => {
  const folder = await tempFolder();
  // Linux: NAME_MAX is 255 bytes; ü takes two.
  const longest = `${'ü'.repeat(123)}.evenrack`;
  expect(Buffer.byteLength(longest)).toBe(255);
  await writeBeside(join(folder, longest), 'text');
  expect(await readdir(folder)).toEqual([longest]);
  await expect(writeBeside(join(folder, `a${longest}`), 'text')).rejects.toThrow('ENAMETOOLONG');
});

test('nothing is replaced where the last word is no', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  await writeFile(file, 'theirs');
  const no = (): Promise<void> => Promise.reject(new Error('changed'));
  await expect(writeBeside(file, 'mine', no)).rejects.toThrow('changed');
  expect(await readFile(file, 'utf8')).toBe('theirs');
  expect(await readdir(folder)).toEqual(['plan.evenrack']);
});

test('keeps the permissions of the file it replaces', async () => {
  const file = join(await tempFolder(), 'plan.evenrack');
  await writeFile(file, 'one');
  await chmod(file, 0o660);
  await writeBeside(file, 'two');
  expect((await stat(file)).mode & 0o777).toBe(0o660);
});

test('a folder or a device is refused and stays as it is', async () => {
  const folder = await tempFolder();
  const target = join(folder, 'plan.evenrack');
  await mkdir(target);
  await expect(writeBeside(target, 'text')).rejects.toThrow('not a file');
  await expect(writeBeside('/dev/null', 'text')).rejects.toThrow('not a file');
  expect((await stat('/dev/null')).isCharacterDevice()).toBe(true);
  expect(await readdir(folder)).toEqual(['plan.evenrack']);
});

test('a failed rename leaves the old content and nothing beside', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  await writeFile(file, 'kept');
  const write = await importWith({ rename: refuse('EIO') });
  await expect(write(file, 'new')).rejects.toThrow('EIO');
  expect(await readFile(file, 'utf8')).toBe('kept');
  expect(await readdir(folder)).toEqual(['plan.evenrack']);
});

test('a missing folder is an error, not a new folder', async () => {
  const folder = await tempFolder();
  await expect(writeBeside(join(folder, 'no', 'plan'), 'x')).rejects.toThrow('ENOENT');
  expect(await readdir(folder)).toEqual([]);
});

test('what a killed save left beside is removed once it is old, and only that', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  // The first twelve figures of the SHA-256 of "plan.evenrack".
  const mine = `.evenrack-${createHash('sha256').update('plan.evenrack').digest('hex').slice(0, 12)}-`;
  const old = `${mine}aaaa.saving`;
  const others = [`${mine}bbbb.saving`, '.evenrack-000000000000-aaaa.saving', `${mine}aaaa`];
  for (const name of [old, ...others]) await writeFile(join(folder, name), 'half');
  const anHourAgo = Date.now() / 1000 - 3600;
  for (const name of [old, others[1] ?? '', others[2] ?? '']) {
    await utimes(join(folder, name), anHourAgo, anHourAgo);
  }
  await writeBeside(file, 'whole');
  expect((await readdir(folder)).sort()).toEqual([...others, 'plan.evenrack'].sort());
});

test('a clock that jumps while a file is saved twice makes neither save fail', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  let tried = 0;
  await writeBeside(file, 'first', async () => {
    if (++tried > 1) return;
    // The other save takes what the first has written for the leftover of an hour ago.
    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + 3_600_000 });
    await writeBeside(file, 'second');
    vi.useRealTimers();
    expect(await readdir(folder)).toEqual(['plan.evenrack']);
  });
  // The last word is asked for again: the file is another one by now.
  expect(tried).toBe(2);
  expect(await readFile(file, 'utf8')).toBe('first');
  expect(await readdir(folder)).toEqual(['plan.evenrack']);
});

test('a disk that fills up leaves the old content and nothing beside', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  await writeFile(file, 'kept');
  for (const step of ['writeFile', 'sync', 'close'] as const) {
    const write = await importWith({
      open: async (...given: Parameters<typeof fs.open>) => {
        const handle = await open(...given);
        const close = handle.close.bind(handle);
        const full = async () => {
          if (step === 'close') await close();
          throw Object.assign(new Error('ENOSPC'), { code: 'ENOSPC' });
        };
        return Object.assign(handle, { [step]: full });
      },
    });
    await expect(write(file, 'new')).rejects.toThrow('ENOSPC');
    expect(await readFile(file, 'utf8')).toBe('kept');
    expect(await readdir(folder)).toEqual(['plan.evenrack']);
  }
});

test('a write through a link that leads nowhere replaces the link alone', async () => {
  const folder = await tempFolder();
  const link = join(folder, 'plan.evenrack');
  await symlink(join(folder, 'elsewhere'), link);
  await writeBeside(link, 'text');
  expect((await readdir(folder)).sort()).toEqual(['plan.evenrack']);
  expect(await readFile(link, 'utf8')).toBe('text');
});

test('a process killed at any moment leaves the old or the new content whole', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  const writer = join(folder, 'writer.ts');
  const service = join(import.meta.dirname, '../../electron/services/files/writeBeside.ts');
  const contents = ['a', 'b'].map((letter) => letter.repeat(300_000));
  await writeFile(
    writer,
    `import { writeBeside } from ${JSON.stringify(service)};
     const contents = ['a', 'b'].map((letter) => letter.repeat(300_000));
     for (let i = 0; ; i++) {
       await writeBeside(${JSON.stringify(file)}, contents[i % 2]);
       if (i === 0) process.stdout.write('written');
     }`,
  );
  await bundleForNode(writer, join(folder, 'writer.mjs'));
  for (const afterMs of [0, 1, 2, 3, 5, 8, 13, 21]) {
    const child = spawn(process.execPath, [join(folder, 'writer.mjs')]);
    const gone = new Promise((resolve) => child.on('close', resolve));
    await new Promise((resolve) => child.stdout.once('data', resolve));
    await new Promise((resolve) => setTimeout(resolve, afterMs));
    child.kill('SIGKILL');
    await gone;
    expect(contents).toContain(await readFile(file, 'utf8'));
  }
});

test('a write-protected file is left as it is', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'plan.evenrack');
  await writeFile(file, 'kept', { mode: 0o444 });
  // Root may write anything, so the system's refusal is put in its mouth.
  const write = await importWith({ access: refuse('EACCES') });
  await expect(write(file, 'new')).rejects.toThrow('EACCES');
  expect(await readFile(file, 'utf8')).toBe('kept');
  expect(await readdir(folder)).toEqual(['plan.evenrack']);
});

const refuse =
  (code: string): (() => Promise<never>) =>
  () =>
    Promise.reject(Object.assign(new Error(`${code}: refused`), { code }));

/** The service over a file system of which some calls are replaced. */
async function importWith(
  replaced: Partial<Record<keyof typeof fs, unknown>>,
): Promise<typeof writeBeside> {
  vi.resetModules();
  vi.doMock('node:fs/promises', async (original) => ({
    ...(await original<typeof fs>()),
    ...replaced,
  }));
  const module = await import('../../electron/services/files/writeBeside');
  vi.doUnmock('node:fs/promises');
  return module.writeBeside;
}
