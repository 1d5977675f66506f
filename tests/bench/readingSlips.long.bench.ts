/**
 * How often slips in meter readings are found and named, and sound readings doubted, stored with its seed
 * in tests/bench/reading-slips.json and reading-exchanges.json. The number of rooms can be given: EVENRACK_SETS.
 */
import { writeFileSync } from 'node:fs';
import { exchangeRates, reaches, slipRates, slips, type Slip } from './readingSlips';

const SEED = 'reading slips 1';
const rooms = Number(process.env['EVENRACK_SETS'] ?? 200);
const seeds = Array.from({ length: rooms }, (_, i) => `${SEED} ${i}`);
const stored: Record<string, unknown> = {};
for (const count of [1, 2, 3, 5, 8, 20]) {
  for (const reach of reaches) {
    // Of one or two readings these are the same as one of them, or all.
    if (count < 3 && ['third', 'half', 'most'].includes(reach)) continue;
    if (count === 1 && reach === 'one') continue;
    for (const slip of (reach === 'none' ? ['ten times'] : Object.keys(slips)) as Slip[]) {
      const name = reach === 'none' ? `${count}, all sound` : `${count}, ${reach}: ${slip}`;
      stored[name] = { seed: SEED, ...slipRates(seeds, count, slip, reach) };
      console.log(name, JSON.stringify(stored[name]));
    }
  }
}
const exchanges: Record<string, unknown> = {};
for (const count of [2, 3, 5, 8, 20]) {
  for (const times of [1, 1.2, 1.5, 2]) {
    const name = times === 1 ? `${count}, all sound` : `${count}, ${times} times apart`;
    exchanges[name] = { seed: SEED, ...exchangeRates(seeds, count, times) };
    console.log(name, JSON.stringify(exchanges[name]));
  }
}
writeFileSync('tests/bench/reading-exchanges.json', `${JSON.stringify(exchanges, null, 2)}\n`);
writeFileSync('tests/bench/reading-slips.json', `${JSON.stringify(stored, null, 2)}\n`);
