// npm test: everything. Ends with one line that sums all steps.
import { countSpecs, runE2e } from './lib/e2e.mjs';
import { machineStep, runSteps, staticChecks, tests, vitest } from './lib/steps.mjs';

await runSteps([
  staticChecks,
  machineStep,
  vitest('unit', 'unit-isolated', 'unit-slow'),
  vitest('reference'),
  tests('e2e specs', (file) => runE2e([], file), countSpecs),
]);
