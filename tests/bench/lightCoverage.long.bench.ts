/**
 * Coverage of a light treatment's true difference under every position model, stored with its seed in
 * tests/bench/light-coverage.json. The number of trials can be given: EVENRACK_SETS; and EVENRACK_CASE,
 * part of the name of a case to be run again.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { coverage, coverageCases, coverageModels } from './lightCoverage';

const SEED = 'light coverage 1';
const trials = Number(process.env['EVENRACK_SETS'] ?? 2000);
const wanted = process.env['EVENRACK_CASE'] ?? '';
const file = 'tests/bench/light-coverage.json';
const stored: Record<string, unknown> =
  wanted === '' ? {} : (JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>);
const seeds = Array.from({ length: trials }, (_, i) => `${SEED} ${i}`);
for (const one of coverageCases) {
  for (const model of coverageModels) {
    const name = `${one.name}, ${model}`;
    if (!name.includes(wanted)) continue;
    const begun = process.cpuUsage().user;
    stored[name] = { seed: SEED, ...coverage(one, model, seeds) };
    console.log(name, JSON.stringify(stored[name]), (process.cpuUsage().user - begun) / 1e6);
    writeFileSync(file, `${JSON.stringify(stored, null, 2)}\n`);
  }
}
