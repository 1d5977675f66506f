import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const top = resolve(import.meta.dirname, '../..');
const rooms = ['electron', 'renderer', 'shared-types'];

const DECLARED =
  /^export (?:declare |abstract |async )*(?:function\*?|const|let|class|interface|type|enum) (\w+)/gm;

/** Names that more than one file declares, and the files. */
function sharedNames(files: readonly (readonly [name: string, text: string])[]): string[] {
  const homes = new Map<string, Set<string>>();
  for (const [file, text] of files) {
    for (const [, name = ''] of text.matchAll(DECLARED)) {
      homes.set(name, (homes.get(name) ?? new Set()).add(file));
    }
  }
  return [...homes]
    .filter(([, at]) => at.size > 1)
    .map(([name, at]) => `${name}: ${[...at].join(', ')}`);
}

test('an exported name means one thing', () => {
  const files = rooms.flatMap((room) =>
    readdirSync(join(top, room), { recursive: true, encoding: 'utf8' })
      .filter((file) => /\.tsx?$/.test(file))
      .map((file) => join(room, file)),
  );
  expect(files.length).toBeGreaterThan(500);
  expect(sharedNames(files.map((file) => [file, readFileSync(join(top, file), 'utf8')]))).toEqual(
    [],
  );
});

test('a name that two files declare is told, overloads of one file are not', () => {
  const name = 'export function sizeOf() {}';
  expect(
    sharedNames([['a.ts', name] as const, ['b.ts', 'export type sizeOf = 1'] as const]),
  ).toEqual(['sizeOf: a.ts, b.ts']);
  expect(sharedNames([['a.ts', `${name}\n${name}`]])).toEqual([]);
});
