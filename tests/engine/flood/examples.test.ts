import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readPlan } from '../../../renderer/document/open';
import { floodNotices } from '../../../renderer/engine/flood';

function example(name: string) {
  const file = new URL(`../../../renderer/app/examples/${name}.json`, import.meta.url);
  const read = readPlan(readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error(`${name} does not open`);
  return floodNotices(read.plan).map(({ kind, severity, about }) => [kind, severity, ...about]);
}

it('finds nothing in the demo', () => {
  expect(example('basil')).toEqual([]);
});

it('finds the four flaws that were put into the example, and what follows from them', () => {
  expect(example('water')).toEqual([
    ['siphon-may-not-start', 'stop', 'tray:t41'],
    ['never-drains', 'stop', 'tray:t41'],
    ['siphon-may-not-break', 'warn', 'tray:t42'],
    ['overtops', 'stop', 'tray:t43'],
    ['reservoir-too-small', 'stop', 'zone:z62', 'tray:t43'],
    ['shelf-overloaded', 'stop', 'shelf:s2'],
  ]);
});
