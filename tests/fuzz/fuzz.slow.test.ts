import { join } from 'node:path';
import { expect, test } from 'vitest';
import { tempFolder } from '../electron/tempFolder';
import { Fuzz } from './cases';

// The long run of it is tests/bench/fuzz.long.bench.ts.
test('mutated plans, tables, lamp files and requests are taken or refused, nothing else', async () => {
  const fuzz = new Fuzz(join(import.meta.dirname, '../..'), await tempFolder(), 'short');
  const ends = { taken: 0, refused: 0 };
  for (let i = 0; i < 240; i++) {
    const ending = await fuzz.run(i);
    expect(ending, `case ${i}`).not.toHaveProperty('what');
    if (ending.kind === 'taken' || ending.kind === 'refused') ends[ending.kind] += 1;
  }
  // A fuzz that is all refused at the door, or all taken, tries nothing.
  expect(ends.taken).toBeGreaterThan(20);
  expect(ends.refused).toBeGreaterThan(20);
}, 120_000);
