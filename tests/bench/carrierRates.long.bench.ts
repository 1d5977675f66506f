/**
 * False alarms where levels share a reservoir or lamps, stored with their seed in
 * tests/bench/carrier-rates.json. The number of rehearsals can be given: EVENRACK_SETS.
 */
import { writeFileSync } from 'node:fs';
import { carrierCases, carrierRates } from './carrierRates';

const SEED = 'carrier rates 1';
const runs = Number(process.env['EVENRACK_SETS'] ?? 10_000);
const stored: Record<string, unknown> = {};
for (const one of carrierCases) {
  const begun = process.cpuUsage().user;
  stored[one.name] = { seed: SEED, ...carrierRates(one, runs, SEED) };
  console.log(one.name, JSON.stringify(stored[one.name]), (process.cpuUsage().user - begun) / 1e6);
  writeFileSync('tests/bench/carrier-rates.json', `${JSON.stringify(stored, null, 2)}\n`);
}
