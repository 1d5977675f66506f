import { readdirSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const top = resolve(import.meta.dirname, '../..');
const rooms = ['build', 'electron', 'renderer', 'shared-types', 'tests'];

const isCode = /\.(ts|tsx|mjs)$/;
/** camelCase, or PascalCase for a component; kinds of test follow after a dot (`fit.slow.test.ts`). */
const isWellNamed = /^[A-Za-z][A-Za-z0-9]*(\.[a-z]+)*\.(ts|tsx|mjs)$/;

test('code files are named in camelCase, components in PascalCase', () => {
  const files = rooms
    .flatMap((room) => readdirSync(join(top, room), { recursive: true, encoding: 'utf8' }))
    .filter((file) => isCode.test(file));
  expect(files.length).toBeGreaterThan(500);
  expect(files.filter((file) => !isWellNamed.test(basename(file)))).toEqual([]);
});

test('two words are joined by a capital, not by a dash', () => {
  expect(isWellNamed.test('boxCox.test.ts')).toBe(true);
  expect(isWellNamed.test('BalancePicker.tsx')).toBe(true);
  expect(isWellNamed.test('box-cox.test.ts')).toBe(false);
});
