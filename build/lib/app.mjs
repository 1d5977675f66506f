import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';
import { bundleForNode, preloadBundle } from './bundle.mjs';
import { out, root } from './run.mjs';

export async function buildRenderer() {
  await build({ configFile: join(root, 'vite.config.ts'), logLevel: 'warn' });
}

/** The shell's main file, its preload and the server. */
export async function buildElectron() {
  rmSync(join(out, 'electron'), { recursive: true, force: true });
  const external = ['electron'];
  await Promise.all([
    bundleForNode('electron/main.ts', join(out, 'electron', 'main.js'), { external }),
    bundleForNode('electron/serve.ts', join(out, 'electron', 'serve.js')),
    bundleForNode('electron/preload.ts', join(out, 'electron', 'preload.cjs'), preloadBundle),
  ]);
}
