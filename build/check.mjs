// npm run check: format, lint, types, layers and the unit tests that take no more than seconds.
import './lib/ready.mjs';

const { runSteps, staticChecks, vitest } = await import('./lib/steps.mjs');
// Files named *.slow.test.ts print, analyse or simulate whole trials; npm test runs them.
await runSteps(staticChecks, [vitest('unit', 'unit-isolated')]);
