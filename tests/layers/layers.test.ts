import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, posix } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { findViolations } from '../../build/lib/layers.mjs';

// The rules are proven on small source trees: one in which each rule is broken once, and one that
// uses all that is allowed. A rule that can't fail protects nothing.

interface Planted {
  readonly rule: string;
  readonly from: string;
  readonly to: string;
  /** A type import counts unless the rule says that it does not. */
  readonly how?: 'type' | 'value';
}

const planted: readonly Planted[] = [
  { rule: 'everything-resolves', from: 'renderer/ui/lost.ts', to: 'renderer/ui/nowhere.ts' },
  { rule: 'shared-types-stand-alone', from: 'shared-types/a.ts', to: 'renderer/ui/a.ts' },
  { rule: 'words-lie-below-all', from: 'renderer/words/b.ts', to: 'renderer/engine/stats/a.ts' },
  { rule: 'tables-know-no-plan', from: 'renderer/tables/b.ts', to: 'renderer/document/c.ts' },
  { rule: 'engine-computes-only', from: 'renderer/engine/light/b.ts', to: 'renderer/derive/a.ts' },
  {
    rule: 'document-knows-rack-and-lamps-only',
    from: 'renderer/document/a.ts',
    to: 'renderer/engine/light/a.ts',
  },
  { rule: 'derive-reads-plan-and-engine', from: 'renderer/derive/b.ts', to: 'renderer/store/a.ts' },
  { rule: 'store-holds-plan-and-session', from: 'renderer/store/b.ts', to: 'renderer/ui/a.ts' },
  { rule: 'canvas-draws-what-it-is-told', from: 'renderer/canvas/b.ts', to: 'renderer/print/a.ts' },
  {
    rule: 'panes-show-and-dispatch',
    from: 'renderer/panes/rack/b.ts',
    to: 'renderer/engine/light/a.ts',
  },
  { rule: 'print-never-reads-the-store', from: 'renderer/print/b.ts', to: 'renderer/store/a.ts' },
  { rule: 'host-knows-no-room', from: 'renderer/host/b.ts', to: 'renderer/store/a.ts' },
  { rule: 'ui-is-dumb', from: 'renderer/ui/b.ts', to: 'renderer/document/c.ts' },
  { rule: 'app-is-the-root', from: 'renderer/panes/rack/c.ts', to: 'renderer/app/a.ts' },
  { rule: 'host-is-handed-in', from: 'renderer/panes/rack/d.ts', to: 'renderer/host/browser.ts' },
  {
    rule: 'store-takes-the-type-of-the-host',
    from: 'renderer/store/c.ts',
    to: 'renderer/host/index.ts',
    how: 'value',
  },
  {
    rule: 'sister-panes-are-strangers',
    from: 'renderer/panes/rack/e.ts',
    to: 'renderer/panes/light/a.ts',
  },
  {
    rule: 'engine-geometry-is-a-leaf',
    from: 'renderer/engine/geometry/b.ts',
    to: 'renderer/engine/stats/a.ts',
  },
  {
    rule: 'engine-stats-is-a-leaf',
    from: 'renderer/engine/stats/b.ts',
    to: 'renderer/engine/geometry/a.ts',
  },
  {
    rule: 'engine-growth-is-a-leaf',
    from: 'renderer/engine/growth/b.ts',
    to: 'renderer/engine/stats/a.ts',
  },
  {
    rule: 'engine-lamps-use-geometry',
    from: 'renderer/engine/lamps/b.ts',
    to: 'renderer/engine/light/a.ts',
  },
  {
    rule: 'engine-light-uses-geometry-and-lamps',
    from: 'renderer/engine/light/c.ts',
    to: 'renderer/engine/stats/a.ts',
  },
  {
    rule: 'engine-flood-uses-geometry-and-lamps',
    from: 'renderer/engine/flood/b.ts',
    to: 'renderer/engine/light/a.ts',
  },
  {
    rule: 'engine-trial-uses-geometry-and-stats',
    from: 'renderer/engine/trial/b.ts',
    to: 'renderer/engine/light/a.ts',
  },
  {
    rule: 'engine-treated-puts-levels-on-the-rack',
    from: 'renderer/engine/treated/b.ts',
    to: 'renderer/engine/light/a.ts',
  },
  {
    rule: 'engine-findings-comes-last',
    from: 'renderer/engine/findings/b.ts',
    to: 'renderer/engine/flood/a.ts',
  },
  {
    rule: 'shell-takes-plans-as-text',
    from: 'electron/services/b.ts',
    to: 'renderer/document/c.ts',
  },
  { rule: 'batch-runs-without-a-window', from: 'electron/batch/b.ts', to: 'renderer/store/a.ts' },
  {
    rule: 'shell-waits-by-the-clock-of-electron',
    from: 'electron/services/e.ts',
    to: 'node:timers/promises',
  },
  { rule: 'shell-knows-no-batch', from: 'electron/services/c.ts', to: 'electron/batch/a.ts' },
  {
    rule: 'electron-at-the-rim-only',
    from: 'electron/services/d.ts',
    to: 'node_modules/electron',
    how: 'value',
  },
  { rule: 'renderer-without-the-shell', from: 'renderer/host/c.ts', to: 'electron/services/a.ts' },
  { rule: 'renderer-without-node-modules', from: 'renderer/print/c.ts', to: 'node:fs' },
  { rule: 'shared-types-packages', from: 'shared-types/b.ts', to: 'node_modules/papaparse' },
  { rule: 'engine-packages', from: 'renderer/engine/light/d.ts', to: 'node_modules/zod' },
  { rule: 'pure-rooms-without-screen', from: 'renderer/derive/c.ts', to: 'node_modules/react' },
  {
    rule: 'tables-alone-have-a-parser',
    from: 'renderer/document/e.ts',
    to: 'node_modules/papaparse',
  },
  { rule: 'canvas-alone-has-a-stage', from: 'renderer/panes/rack/f.ts', to: 'node_modules/konva' },
];

const allowed: readonly Planted[] = [
  ['shared-types/a.ts', 'node_modules/zod'],
  ['renderer/words/b.ts', 'shared-types/z.ts'],
  ['renderer/engine/stats/c.ts', 'renderer/words/a.ts'],
  ['renderer/ui/c.ts', 'renderer/words/a.ts'],
  ['renderer/engine/geometry/b.ts', 'shared-types/z.ts'],
  ['renderer/engine/light/b.ts', 'renderer/engine/geometry/a.ts'],
  ['renderer/engine/light/c.ts', 'renderer/engine/lamps/a.ts'],
  ['renderer/engine/lamps/b.ts', 'renderer/engine/geometry/a.ts'],
  ['renderer/engine/flood/b.ts', 'renderer/engine/geometry/a.ts'],
  ['renderer/engine/flood/c.ts', 'renderer/engine/lamps/a.ts'],
  ['renderer/engine/trial/b.ts', 'renderer/engine/stats/a.ts'],
  ['renderer/engine/trial/c.ts', 'renderer/engine/geometry/a.ts'],
  ['renderer/engine/treated/b.ts', 'renderer/engine/trial/a.ts'],
  ['renderer/engine/treated/c.ts', 'renderer/engine/flood/a.ts'],
  ['renderer/engine/findings/b.ts', 'renderer/engine/trial/a.ts'],
  ['renderer/engine/findings/c.ts', 'renderer/engine/light/a.ts'],
  ['renderer/engine/stats/b.ts', 'node_modules/jstat'],
  ['renderer/document/b.ts', 'renderer/engine/geometry/a.ts'],
  ['renderer/document/d.ts', 'renderer/engine/lamps/a.ts'],
  ['renderer/document/f.ts', 'renderer/engine/treated/a.ts'],
  ['renderer/canvas/d.ts', 'renderer/engine/lamps/a.ts'],
  ['renderer/derive/b.ts', 'renderer/engine/findings/a.ts'],
  ['renderer/derive/d.ts', 'renderer/document/c.ts'],
  ['renderer/store/b.ts', 'renderer/derive/a.ts'],
  ['renderer/store/d.ts', 'renderer/host/host.ts'],
  ['renderer/canvas/b.ts', 'renderer/store/a.ts'],
  ['renderer/canvas/c.ts', 'node_modules/konva'],
  ['renderer/panes/rack/b.ts', 'renderer/canvas/a.ts'],
  ['renderer/panes/rack/c.ts', 'renderer/print/a.ts'],
  ['renderer/panes/rack/d.ts', 'renderer/panes/rack/a.ts'],
  ['renderer/panes/rack/f.ts', 'renderer/panes/shared/a.ts'],
  ['renderer/panes/rack/e.ts', 'renderer/engine/geometry/index.ts'],
  ['renderer/store/e.ts', 'renderer/engine/findings/index.ts'],
  ['renderer/print/b.ts', 'renderer/engine/light/a.ts'],
  ['renderer/host/b.ts', 'renderer/tables/encoding.ts'],
  ['renderer/tables/b.ts', 'node_modules/papaparse'],
  ['renderer/engine/stats/c.ts', 'renderer/tables/cells.ts'],
  ['renderer/engine/stats/d.ts', 'renderer/engine/entry.ts'],
  ['renderer/engine/light/d.ts', 'renderer/engine/entry.ts'],
  ['renderer/document/e.ts', 'renderer/tables/index.ts'],
  ['renderer/app/b.ts', 'renderer/host/browser.ts'],
  ['electron/services/c.ts', 'renderer/tables/encoding.ts'],
  ['electron/services/b.ts', 'shared-types/z.ts'],
  ['electron/services/d.ts', 'node_modules/electron'],
  ['electron/batch/b.ts', 'renderer/engine/stats/a.ts'],
  ['electron/batch/c.ts', 'renderer/words/a.ts'],
].map(([from = '', to = '']) => ({ rule: '', from, to }));

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

/** A source tree with the given imports; the files that they lead to exist, save the lost one. */
function tree(imports: readonly Planted[]): string {
  const folder = mkdtempSync(join(tmpdir(), 'evenrack-layers-'));
  folders.push(folder);
  const write = (path: string, text: string): void => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  for (const name of ['shared-types', 'renderer', 'electron'])
    write(`${name}/z.ts`, 'export {};\n');
  for (const { from, to, how = 'type' } of imports) {
    const name = to.startsWith('node_modules/') ? to.slice('node_modules/'.length) : null;
    if (name !== null) {
      write(`${to}/package.json`, JSON.stringify({ name, version: '1.0.0', main: 'index.js' }));
      write(`${to}/index.js`, 'export const value = 1;\n');
    } else if (!to.startsWith('node:') && !to.includes('nowhere')) {
      write(to, 'export const value = 1;\nexport type Value = number;\n');
    }
    const relative = posix.relative(posix.dirname(from), to).replace(/\.ts$/, '');
    const target =
      name ?? (to.startsWith('node:') ? to : relative.startsWith('.') ? relative : `./${relative}`);
    write(from, how === 'type' ? typeImport(target) : valueImport(target));
  }
  return folder;
}

const typeImport = (target: string): string =>
  `import type { Value } from '${target}';\nexport type Again = Value;\n`;
const valueImport = (target: string): string =>
  `import { value } from '${target}';\nexport const again = value;\n`;

test('each rule reports the import planted against it', async () => {
  const folder = tree(planted);
  writeFileSync(join(folder, 'renderer/ui/x.ts'), "import './y';\n");
  writeFileSync(join(folder, 'renderer/ui/y.ts'), "import './x';\n");
  const found = await findViolations(folder);
  const pairs = new Set(found.map(({ rule, from }) => `${rule} ${from}`));
  const missed = planted.filter(({ rule, from }) => !pairs.has(`${rule} ${from}`));
  expect(missed).toEqual([]);
  expect([...pairs]).toContain('no-circles renderer/ui/x.ts');
});

test('no rule stands without an import planted against it', () => {
  const config = createRequire(import.meta.url)('../../.dependency-cruiser.cjs') as {
    forbidden: { name: string; comment: string }[];
  };
  const names = config.forbidden.map((rule) => rule.name).sort();
  expect([...planted.map(({ rule }) => rule), 'no-circles'].sort()).toEqual(names);
  expect(config.forbidden.filter((rule) => rule.comment.length < 20)).toEqual([]);
});

test('what the table allows is not reported', async () => {
  expect(await findViolations(tree(allowed))).toEqual([]);
});
