/**
 * How often the stated ± of a pot's and of a shelf's light holds the truth, stored with its seed in
 * tests/bench/light-plus-minus.json. The number of rooms can be given: EVENRACK_SETS.
 */
import { writeFileSync } from 'node:fs';
import { coverageOfPlusMinus, readingCounts, shapes, type Meter } from './lightPlusMinus';

const SEED = 'light plus minus 1';
const rooms = Number(process.env['EVENRACK_SETS'] ?? 1000);
const seeds = Array.from({ length: rooms }, (_, i) => `${SEED} ${i}`);
const stored: Record<string, unknown> = {};
for (const shape of shapes) {
  for (const meter of ['ppfd', 'lux'] satisfies Meter[]) {
    for (const count of readingCounts) {
      if (count === 0 && meter === 'lux') continue;
      const name = `${shape} ranges, ${count === 0 ? 'estimated' : `${count} in ${meter}`}`;
      stored[name] = { seed: SEED, ...coverageOfPlusMinus(seeds, count, meter, shape) };
      console.log(name, JSON.stringify(stored[name]));
    }
  }
}
writeFileSync('tests/bench/light-plus-minus.json', `${JSON.stringify(stored, null, 2)}\n`);
