// npm run bench [-- part of a name]: runs tests/bench/*.bench.ts one after the other. Without a name
// the long ones, *.long.bench.ts, are left out.
import './lib/ready.mjs';
import { mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { isBuilt } from './lib/fresh.mjs';
import { root, run } from './lib/run.mjs';

const { buildElectron, buildRenderer } = await import('./lib/app.mjs');
const { bundleForNode } = await import('./lib/bundle.mjs');
const [wanted = ''] = process.argv.slice(2);
const folder = join(root, 'tests', 'bench');
const cache = join(root, 'node_modules', '.cache', 'evenrack', 'bench');
mkdirSync(cache, { recursive: true });
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.bench.ts') && name.includes(wanted))
  .filter((name) => wanted !== '' || !name.endsWith('.long.bench.ts'))
  .sort();
if (names.length === 0) {
  console.error(`tests/bench: found no bench named *${wanted}*.bench.ts`);
  process.exitCode = 1;
}
if (!isBuilt()) {
  await buildRenderer();
  await buildElectron();
}
for (const name of names) {
  console.log(`\n== ${name}`);
  const file = join(cache, name.replace(/\.ts$/, '.mjs'));
  await bundleForNode(`tests/bench/${name}`, file, {
    external: ['@playwright/test', 'playwright', 'esbuild'],
  });
  const { code } = await run(process.execPath, ['--enable-source-maps', file]);
  if (code !== 0) process.exitCode = 1;
}
