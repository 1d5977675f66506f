// npm test: everything. Ends with one line that sums all steps.
import { e2eParts } from './lib/e2e.mjs';
import { machineStep, runSteps, staticChecks, vitest } from './lib/steps.mjs';

// Long steps stand before short ones, so that all processors are busy to the end.
await runSteps(
  [machineStep],
  [
    ...staticChecks,
    vitest('unit-slow', 1, 2),
    vitest('unit-slow', 2, 2),
    vitest('unit'),
    vitest('unit-isolated'),
    ...e2eParts(6),
    vitest('reference'),
  ],
);
