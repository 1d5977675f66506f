import { join } from 'node:path';
import { expect, test } from 'vitest';
import { killLoop } from './killLoop/loop';
import { tempFolder } from './tempFolder';

// The long run of it is tests/bench/kill.long.bench.ts.
test('a window killed again and again loses at most two seconds and offers no stale copy', async () => {
  const root = join(import.meta.dirname, '../..');
  const found = await killLoop(root, await tempFolder(), {
    kills: 4,
    seed: 'short',
    longestMs: 3000,
  });
  expect(found.troubles).toEqual([]);
  expect(found.stale).toBe(0);
  expect(found.edits).toBeGreaterThan(10);
  expect(found.longestLossMs).toBeLessThanOrEqual(2000 + found.machineMs);
}, 120_000);
