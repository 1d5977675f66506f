// npm run check: format, lint, types, layers and the unit tests.
import { runSteps, staticSteps, vitest } from './lib/steps.mjs';

await runSteps([...staticSteps, vitest('unit')]);
