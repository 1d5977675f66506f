import { build } from 'esbuild';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { thirdParties } from '../../build/lib/thirdParty.mjs';
import shown from '../../renderer/app/about/thirdParty.json';

test('what About says of the work of others is what the lock names', () => {
  // Out of date? `node build/makeNotices.mjs` writes it afresh.
  expect(shown).toEqual(thirdParties());
});

test('every package comes with its licence, the font with its own, and one that has no sign of it would show', () => {
  expect(shown.filter(({ licence, text }) => !licence || text.length < 300)).toEqual([]);
  const font = shown.find(({ name }) => name.includes('atkinson-hyperlegible'));
  expect(font?.licence).toBe('OFL-1.1');
  expect(font?.text).toContain('SIL OPEN FONT LICENSE');
  // Asked for by another package alone.
  expect(shown.map(({ name }) => name)).toContain('konva');
  expect(shown.map(({ name }) => name)).not.toContain('vite');
});

test('all that is bundled of others is named, by the bundler’s own account', async () => {
  const root = join(import.meta.dirname, '../..');
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: [
      ...['renderer/app/main.tsx', 'renderer/app/jobs/worker.ts', 'electron/main.ts'],
      ...['electron/preload.ts', 'electron/serve.ts', 'electron/batch/main.ts'],
    ],
    bundle: true,
    write: false,
    metafile: true,
    outdir: 'out',
    format: 'esm',
    platform: 'node',
    external: ['electron', '*?raw'],
    loader: { '.woff2': 'file', '.svg': 'file' },
  });
  const taken = Object.values(metafile.outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([file, { bytesInOutput }]) => (bytesInOutput > 0 ? file : [])),
  );
  const folders = new Set(
    taken.flatMap((file) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0] ?? []),
  );
  expect(folders.size).toBeGreaterThan(25);
  const named = new Set(shown.map(({ name, version }) => `${name} ${version}`));
  const lacking = [...folders].filter((folder) => {
    const { name, version } = JSON.parse(
      readFileSync(join(root, folder, 'package.json'), 'utf8'),
    ) as { name: string; version: string };
    return !named.has(`${name} ${version}`);
  });
  expect(lacking).toEqual([]);
});
