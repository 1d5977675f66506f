// npm test: everything. Ends with what failed and one line that sums all steps.
import './lib/ready.mjs';

const { buildStep, e2eStep } = await import('./lib/e2e.mjs');
const { machineStep, runSteps, staticChecks, vitest } = await import('./lib/steps.mjs');
await runSteps(
  [machineStep],
  [...staticChecks, buildStep],
  [vitest('shared', 'unit-isolated')],
  [e2eStep],
);
