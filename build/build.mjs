// npm run build: the renderer to out/renderer, the shell to out/electron.
import './lib/ready.mjs';

const { buildElectron, buildRenderer } = await import('./lib/app.mjs');
await buildRenderer();
await buildElectron();
