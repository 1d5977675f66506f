/**
 * False alarms of randomisation tests of one factor of several, stored with their seed in
 * tests/bench/redraw-rates.json. The number of sets can be given: EVENRACK_SETS; and EVENRACK_CASE, part
 * of the name of the cases to be run again.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { reasonOf } from '../../renderer/words';
import { redrawCases, redrawn } from './redrawRates';
import { shareBelow } from './falseAlarms';

const SEED = 'redraw rates 1';
const wanted = process.env['EVENRACK_CASE'] ?? '';
const file = 'tests/bench/redraw-rates.json';
const stored: Record<string, unknown> =
  wanted === '' ? {} : (JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>);
for (const one of redrawCases.filter(({ name }) => name.includes(wanted))) {
  // Where place has a covariance of its own, that is estimated in every set.
  const sets = Number(process.env['EVENRACK_SETS'] ?? (one.position ? 1000 : 10_000));
  const ps: number[] = [];
  const refused: string[] = [];
  const called = new Set<boolean>();
  for (let set = 0; set < sets; set++) {
    try {
      const { p, approximate } = redrawn(one, `${SEED} ${set}`);
      ps.push(p);
      called.add(approximate);
    } catch (error) {
      refused.push(reasonOf(error));
    }
  }
  const rates = {
    // p is a whole number of two-hundredths.
    at5: shareBelow(ps, 0.05 + 1e-9),
    at1: shareBelow(ps, 0.01 + 1e-9),
    approximate: [...called],
    refused: refused.length,
  };
  console.log(one.name, JSON.stringify(rates), refused[0] ?? '');
  stored[one.name] = { seed: SEED, ...rates };
  writeFileSync(file, `${JSON.stringify(stored, null, 2)}\n`);
}
