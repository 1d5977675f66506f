// npm start [-- PLAN --SWITCH]: the desktop app where the Electron runtime is here or can be fetched, and
// starts; otherwise the same app in a window of an installed browser, with the reason.
import './lib/ready.mjs';

const { start } = await import('./lib/start/start.mjs');
process.exit(await start(process.argv.slice(2)));
