// npm run package [-- arguments of electron-builder]: installable packages for this system in dist/.
// Needs the Electron runtime of the target and the tools of its installers, which electron-builder
// fetches.
import './lib/ready.mjs';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { writeResources } from './lib/package/resources.mjs';
import { root, runBin } from './lib/run.mjs';
import { wayToRuntime } from './lib/start/runtime.mjs';

const asked = process.argv.slice(2);
const log = join('dist', 'package.log');
// A variable that is set to nothing names no certificate.
for (const name of Object.keys(process.env)) {
  if (/^(WIN_)?CSC_|^APPLE_API_/.test(name) && process.env[name] === '') delete process.env[name];
}
// Somebody who names a runtime needs none fetched.
const brings = asked.some((word) => /electron-?dist/i.test(word));
const lack = brings ? null : await wayToRuntime();
if (lack !== null) {
  console.error(`No package was made: ${lack}, and the Electron runtime has to be fetched.`);
  process.exitCode = 1;
} else {
  await make();
}

async function make() {
  const { needBuilt } = await import('./lib/start/built.mjs');
  const unbuilt = await needBuilt({ fresh: () => false, hasOld: () => false });
  if (unbuilt !== null) {
    console.error(`No package was made: ${unbuilt}`);
    process.exitCode = 1;
    return;
  }
  writeResources();
  console.log('Packaging, which takes some minutes where the runtime is fetched first.');
  const words = ['--config', 'build/electron-builder.yml', '--publish', 'never'];
  const { code, text } = await runBin('electron-builder', [...words, ...signing(), ...asked], {
    capture: true,
  });
  mkdirSync(join(root, 'dist'), { recursive: true });
  writeFileSync(join(root, log), text);
  if (code === 0) {
    console.log(`The packages are in dist/; how they were made stands in ${log}.`);
    return;
  }
  console.error(`No package was made: ${reason(text)} (the whole of it stands in ${log}).`);
  process.exitCode = 1;
}

/** A Mac of today runs nothing unsigned: without a certificate it is signed for this machine. */
function signing() {
  const { CSC_LINK, CSC_NAME } = process.env;
  if (process.platform !== 'darwin' || CSC_LINK || CSC_NAME) return [];
  return ['-c.mac.identity=-', '-c.mac.hardenedRuntime=false'];
}

/** What electron-builder says first of what went wrong. */
function reason(text) {
  const line = text.split('\n').find((one) => /⨯|Error:/.test(one)) ?? 'electron-builder failed';
  return (
    line
      .replace(/^.*?⨯\s*/, '')
      .replace(/^\w*Error:\s*/, '')
      // It adds its own state, and advice of more than a sentence.
      .replace(/\s+failedTask=.*$/, '')
      .replace(/\.\s.*$/, '')
      .trim()
  );
}
