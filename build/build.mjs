// npm run build: the renderer to out/renderer, the shell to out/electron.
import { buildElectron, buildRenderer } from './lib/app.mjs';

await buildRenderer();
await buildElectron();
