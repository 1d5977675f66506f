import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { out, root } from './run.mjs';

const sources = ['renderer', 'electron', 'shared-types', 'vite.config.ts', 'package-lock.json'];
const products = ['renderer/index.html', 'electron/main.js', 'electron/serve.js'];

/** Whether out/ holds a build that is younger than every source. */
export function isBuilt() {
  const built = products.map((file) => join(out, file));
  if (!built.every((file) => existsSync(file))) return false;
  const oldest = Math.min(...built.map((file) => statSync(file).mtimeMs));
  return sources.every((source) => newest(join(root, source)) <= oldest);
}

function newest(path) {
  const found = statSync(path);
  if (!found.isDirectory()) return found.mtimeMs;
  return Math.max(found.mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))));
}
