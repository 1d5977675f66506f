/**
 * False alarms of few counts that vary much, stored with their seed in tests/bench/count-rates.json. The
 * number of sets can be given: EVENRACK_SETS.
 */
import { writeFileSync } from 'node:fs';
import { analyses, countCases, countedAlike } from './countRates';
import { shareBelow } from './falseAlarms';

const SEED = 'count rates 1';
const sets = Number(process.env['EVENRACK_SETS'] ?? 1000);
const stored: Record<string, unknown> = {};
for (const one of countCases) {
  for (const mean of [3, 10, 40]) {
    for (const theta of [4, 1.5]) {
      const ps = Array.from({ length: sets }, (_, set) =>
        countedAlike(one, { mean, theta }, `${SEED} ${set}`),
      );
      const name = `${one.name}, mean ${mean}, θ ${theta}`;
      // p by layouts is a whole number of two-hundredths.
      const rates = analyses.map((by) => {
        const own = ps.map((p) => p[by]);
        return [by, shareBelow(own, by === 'findings' ? 0.05 + 1e-9 : 0.05)] as const;
      });
      stored[name] = { seed: SEED, at5: Object.fromEntries(rates) };
      console.log(name, rates.map(([by, { share }]) => `${by} ${share}`).join(', '));
      writeFileSync('tests/bench/count-rates.json', `${JSON.stringify(stored, null, 2)}\n`);
    }
  }
}
