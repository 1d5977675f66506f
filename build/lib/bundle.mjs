import { build } from 'esbuild';
import { resolve } from 'node:path';
import { root } from './run.mjs';

// Bundled CommonJS packages ask for Node's own modules through `require`.
const requireBanner =
  "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);";

/** A TypeScript entry as one CommonJS text, for a thread that has no file. */
export async function codeForThread(entry) {
  const { outputFiles } = await build({
    entryPoints: [resolve(root, entry)],
    write: false,
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    logLevel: 'error',
  });
  return outputFiles[0].text;
}

/** How the preload is bundled: in its sandbox it must be one CommonJS file, and may ask for Electron alone. */
export const preloadBundle = {
  external: ['electron'],
  format: 'cjs',
  banner: {},
  sourcemap: false,
};

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
