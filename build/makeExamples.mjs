// Writes renderer/app/examples/*.json afresh from build/examples.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { bundleForNode } from './lib/bundle.mjs';

const folder = mkdtempSync(join(tmpdir(), 'examples-'));
const file = join(folder, 'make.mjs');
await bundleForNode('build/examples/make.ts', file);
await import(pathToFileURL(file).href);
rmSync(folder, { recursive: true, force: true });
