import { lookup } from 'node:dns/promises';
import { join } from 'node:path';
import { findElectron } from '../../electron/browser.mjs';
import { root, run } from './run.mjs';

const downloadHost = 'github.com';
const lookupMs = 3_000;
const downloadMs = 180_000;

/**
 * Tries to fetch the Electron runtime by the package's own installer. Quiet and quick where there
 * is no way to it: null, within seconds.
 */
export async function fetchElectron() {
  const offline = process.env.npm_config_offline === 'true' || !(await resolves(downloadHost));
  if (offline) return null;
  const installer = join(root, 'node_modules', 'electron', 'install.js');
  await run(process.execPath, [installer], { capture: true, timeoutMs: downloadMs });
  return findElectron();
}

async function resolves(host) {
  const tooLate = new Promise((resolve) => setTimeout(resolve, lookupMs, false).unref());
  const found = lookup(host).then(
    () => true,
    () => false,
  );
  return Promise.race([found, tooLate]);
}
