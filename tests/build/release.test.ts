import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { z } from 'zod';

// electron-builder reads its own files by it, and it has no types of its own.
const { load } = createRequire(import.meta.url)('js-yaml') as { load(text: string): unknown };

const top = join(import.meta.dirname, '../..');
const read = (name: string): string => readFileSync(join(top, name), 'utf8');

const stepSchema = z.strictObject({
  name: z.string().optional(),
  if: z.string().optional(),
  uses: z.string().optional(),
  run: z.string().optional(),
  shell: z.string().optional(),
  with: z.record(z.string(), z.unknown()).optional(),
  env: z.record(z.string(), z.string()).optional(),
});

// No runner is here: what is held is the form of the file, and that what it calls and gathers is there.
const { jobs, ...workflow } = z
  .looseObject({
    permissions: z.unknown(),
    jobs: z.record(
      z.string(),
      z.looseObject({
        needs: z.string().optional(),
        permissions: z.unknown().optional(),
        'timeout-minutes': z.number(),
        env: z.never().optional(),
        steps: z.array(stepSchema),
      }),
    ),
  })
  .parse(load(read('build/release.yml')));
const steps = Object.values(jobs).flatMap((job) => job.steps);

const { scripts, version } = z
  .object({ scripts: z.record(z.string(), z.string()), version: z.string() })
  .parse(JSON.parse(read('package.json')));

test('a release calls scripts that there are, and code of others by its commit alone', () => {
  const called = steps.flatMap(({ run = '' }) =>
    [...run.matchAll(/\bnpm (?:run )?([a-z:0-9]+)/g)].map(([, name]) => name),
  );
  expect(called).toEqual(['ci', 'test', 'ci', 'package']);
  for (const name of ['test', 'package']) expect(scripts).toHaveProperty(name);
  const uses = steps.flatMap((step) => step.uses ?? []);
  expect(uses.length).toBeGreaterThan(5);
  for (const use of uses) expect(use).toMatch(/^actions\/[a-z-]+@[0-9a-f]{40}$/);
});

test('only its last job may write, nothing but a step sees a secret, and no command is made of one', () => {
  expect(workflow.permissions).toEqual({ contents: 'read' });
  const writing = Object.entries(jobs).filter(([, job]) => job.permissions !== undefined);
  expect(writing.map(([name, job]) => [name, job.permissions])).toEqual([
    ['release', { contents: 'write' }],
  ]);
  expect([jobs['package']?.needs, jobs['release']?.needs]).toEqual(['check', 'package']);
  for (const { run = '' } of steps) expect(run).not.toContain('secrets.');
  const seeing = steps.filter(({ env }) => JSON.stringify(env ?? {}).includes('secrets.'));
  expect(seeing.every(({ run = '' }) => !run.includes('npm ci'))).toBe(true);
  const certificates = Object.keys(seeing.at(-1)?.env ?? {});
  const named = read('build/electron-builder.yml').match(
    /\b(?:WIN_)?CSC_[A-Z_]+|APPLE_API_[A-Z_]+/g,
  );
  expect([...new Set(named)].filter((name) => name !== 'APPLE_API_KEY').sort()).toEqual(
    certificates.sort(),
  );
});

test('it gathers what every target makes, and its version stands in the list of changes', () => {
  const builder = z
    .object({ linux: z.unknown(), win: z.unknown(), mac: z.unknown() })
    .parse(load(read('build/electron-builder.yml')));
  const targets = Object.values(builder).flatMap(
    (system) => z.object({ target: z.array(z.string()) }).parse(system).target,
  );
  const endings = targets.map((target) => (/nsis|portable/.test(target) ? 'exe' : target));
  const gathered = steps.flatMap((step) => step.with?.['path'] ?? []).join('\n');
  for (const ending of endings) expect(gathered).toContain(`dist/*.${ending}\n`.trimEnd());
  expect(read('build/CHANGELOG.md')).toContain(`\n## ${version}\n`);
});

test('no two sources differ in case alone: Windows and macOS would take one for the other', () => {
  const files = ['renderer', 'electron', 'shared-types', 'build'].flatMap((room) =>
    readdirSync(join(top, room), { recursive: true, encoding: 'utf8' }).flatMap((name) =>
      /\.(tsx?|mjs)$/.test(name) ? join(room, name) : [],
    ),
  );
  expect(files.length).toBeGreaterThan(500);
  const seen = new Map<string, string>();
  const pairs = files.flatMap((file) => {
    const key = file.toLowerCase().replace(/\.\w+$/, '');
    const other = seen.get(key);
    seen.set(key, file);
    return other === undefined ? [] : [`${other} and ${file}`];
  });
  expect(pairs).toEqual([]);
});
