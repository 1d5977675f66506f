// npm test: everything. Ends with what failed and one line that sums all steps.
import { buildStep, e2eStep } from './lib/e2e.mjs';
import { machineStep, runSteps, staticChecks, vitest } from './lib/steps.mjs';

await runSteps(
  [machineStep],
  [...staticChecks, buildStep],
  [vitest('unit-slow', 'unit', 'unit-isolated', 'reference')],
  [e2eStep],
);
