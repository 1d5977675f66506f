// npm run check: format, lint, types, layers and the unit tests.
import { machineStep, runSteps, staticSteps, vitest } from './lib/steps.mjs';

await runSteps([...staticSteps, machineStep, vitest('unit')]);
