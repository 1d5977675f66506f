// npm run package [-- arguments of electron-builder]: an installable app for this system in dist/.
// Needs the Electron runtime of the target, which electron-builder fetches.
import { buildElectron, buildRenderer } from './lib/app.mjs';
import { runBin } from './lib/run.mjs';

await buildRenderer();
await buildElectron();
const { code } = await runBin('electron-builder', [
  '--config',
  'build/electron-builder.yml',
  '--publish',
  'never',
  ...process.argv.slice(2),
]);
process.exitCode = code;
