/**
 * CPU of all findings of one measurement of many pots, every position model among them, as a worker
 * of the window computes them. Claims: 3 s at 2,000 pots; up to 5 s where the planned model draws each
 * term of a factorial anew, or a tray holds hundreds of pots.
 */
import { findingsOf } from '../../renderer/engine/findings';
import { manyHarvested, twoThousandPots } from '../builders/manyHarvested';

for (const shape of twoThousandPots) {
  const input = manyHarvested(shape, 'bench');
  const before = process.cpuUsage();
  const outcome = findingsOf(input);
  const { user, system } = process.cpuUsage(before);
  const ms = (user + system) / 1000;
  if (ms > shape.limitMs) process.exitCode = 1;
  const answer = outcome.ok
    ? outcome.findings.positions
        .map(({ model, result }) => `${model} p ${(result.terms.at(-1)?.p ?? NaN).toPrecision(6)}`)
        .join(', ')
    : outcome.missing;
  console.log(
    `${shape.what}: ${ms.toFixed(0)} ms of CPU (${ms <= shape.limitMs ? 'within' : 'OVER'} ${shape.limitMs})`,
  );
  console.log(`  ${answer}`);
}
