import { build } from 'esbuild';
import { resolve } from 'node:path';
import { root } from './run.mjs';

// Bundled CommonJS packages ask for Node's own modules through `require`.
const requireBanner =
  "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);";

/** Bundles a TypeScript entry with all its packages into one ES module that Node runs as is. */
export async function bundleForNode(entry, outfile, options = {}) {
  await build({
    entryPoints: [resolve(root, entry)],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    banner: { js: requireBanner },
    sourcemap: 'linked',
    logLevel: 'error',
    ...options,
  });
}
