/**
 * CPU of all findings of one measurement of many pots, every position model among them, as a worker
 * of the window computes them. Claim: 3 s at 2,000 pots, whatever the shape of the trial.
 */
import { findingsOf } from '../../renderer/engine/findings';
import { manyHarvested, twoThousandPots } from '../builders/manyHarvested';

const LIMIT_MS = 3000;

for (const shape of twoThousandPots) {
  const input = manyHarvested(shape, 'bench');
  const before = process.cpuUsage();
  const outcome = findingsOf(input);
  const { user, system } = process.cpuUsage(before);
  const ms = (user + system) / 1000;
  if (ms > LIMIT_MS) process.exitCode = 1;
  const answer = outcome.ok
    ? outcome.findings.positions
        .map(({ model, result }) => `${model} p ${(result.terms.at(-1)?.p ?? NaN).toPrecision(6)}`)
        .join(', ')
    : outcome.missing;
  console.log(
    `${shape.what}: ${ms.toFixed(0)} ms of CPU (${ms <= LIMIT_MS ? 'within' : 'OVER'} ${LIMIT_MS} ms)`,
  );
  console.log(`  ${answer}`);
}
