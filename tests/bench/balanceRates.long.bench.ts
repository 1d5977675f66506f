/**
 * How many fair draws raise a warning, stored with their seed in tests/bench/balance-rates.json. The
 * number of draws a design can be given: EVENRACK_SETS.
 */
import { writeFileSync } from 'node:fs';
import { balanceCases, balanceRate } from './balanceRates';

const SEED = 'balance rates 1';
const draws = Number(process.env['EVENRACK_SETS'] ?? 40);
const stored = balanceCases.map((one) => {
  const seeds = Array.from({ length: draws }, (_, i) => `${SEED} ${i}`);
  const rate = { design: one.name, seed: SEED, ...balanceRate(one, seeds) };
  console.log(JSON.stringify(rate));
  return rate;
});
writeFileSync('tests/bench/balance-rates.json', `${JSON.stringify(stored, null, 2)}\n`);
