/**
 * False alarms and coverage on lost trays, unequal trays, a 2 × 2 and counts, stored with their seed in
 * tests/bench/design-rates.json. The number of sets can be given: EVENRACK_SETS; and EVENRACK_CASE, part of
 * the name of the designs to be run again.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { designCases, saidOf, type Said } from './designRates';
import { shareBelow } from './falseAlarms';

const SEED = 'design rates 1';
const sets = Number(process.env['EVENRACK_SETS'] ?? 2000);
const wanted = process.env['EVENRACK_CASE'] ?? '';
const file = 'tests/bench/design-rates.json';
const stored: Record<string, unknown> =
  wanted === '' ? {} : (JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>);
for (const design of designCases.filter(({ name }) => name.includes(wanted))) {
  for (const variance of design.scale === null ? [0, 0.1, 0.5] : [0, 0.05, 0.2]) {
    const said: Record<string, Said[]> = {};
    for (let set = 0; set < sets; set++) {
      for (const [term, one] of Object.entries(saidOf(design, variance, `${SEED} ${set}`))) {
        (said[term] ??= []).push(one);
      }
    }
    for (const [term, all] of Object.entries(said)) {
      const ps = all.map(({ p }) => p);
      const held = all.flatMap(({ holds }) => (holds === null ? [] : [holds ? 0 : 1]));
      const rates = {
        at5: shareBelow(ps, 0.05),
        at1: shareBelow(ps, 0.01),
        ...(held.length > 0
          ? {
              outside: shareBelow(
                held.map((one) => 1 - one),
                0.5,
              ),
            }
          : {}),
      };
      const name = `${design.name}, tray variance ${variance}, ${term}`;
      console.log(name, JSON.stringify(rates));
      stored[name] = { seed: SEED, ...rates };
      writeFileSync(file, `${JSON.stringify(stored, null, 2)}\n`);
    }
  }
}
