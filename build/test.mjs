// npm test: everything. Ends with what failed and one line that sums all steps.
import { buildStep, e2eStep } from './lib/e2e.mjs';
import { machineStep, runSteps, staticChecks, vitest } from './lib/steps.mjs';

await runSteps(
  [machineStep],
  [...staticChecks, buildStep],
  [vitest('shared', 'unit-isolated')],
  [e2eStep],
);
