// npm run test:e2e -- [arguments of playwright test]: the specs in the built app.
import './lib/ready.mjs';

const { runE2e } = await import('./lib/e2e.mjs');
process.exitCode = await runE2e(process.argv.slice(2));
