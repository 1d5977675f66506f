/**
 * Coverage and false alarms over swapped runs, stored with their seed in tests/bench/run-rates.json. The
 * number of sets can be given: EVENRACK_SETS.
 */
import { writeFileSync } from 'node:fs';
import { runCases, runRates } from './runRates';

const SEED = 'run rates 1';
const sets = Number(process.env['EVENRACK_SETS'] ?? 2_000);
const stored: Record<string, unknown> = {};
for (const one of runCases) {
  const begun = process.cpuUsage().user;
  stored[one.name] = { seed: SEED, ...runRates(one, sets, SEED) };
  console.log(one.name, JSON.stringify(stored[one.name]), (process.cpuUsage().user - begun) / 1e6);
  writeFileSync('tests/bench/run-rates.json', `${JSON.stringify(stored, null, 2)}\n`);
}
