import { join } from 'node:path';
import { findElectron } from '../../electron/browser.mjs';
import { buildElectron, buildRenderer } from './app.mjs';
import { needBrowser, needPdfTools } from './machine.mjs';
import { root, runBin } from './run.mjs';
import { tests } from './steps.mjs';

/** Gets what the specs need and builds the app; gives the environment in which they run. */
async function prepare() {
  const browser = await needBrowser();
  await needPdfTools();
  await buildRenderer();
  await buildElectron();
  const electron = findElectron();
  const told = electron
    ? `The specs run in ${browser} and in Electron.`
    : `The specs run in ${browser}; not run: the same specs in Electron, whose runtime is not here.`;
  return {
    told,
    env: { EVENRACK_BROWSER: browser, ...(electron ? { EVENRACK_ELECTRON: electron } : {}) },
  };
}

/** Builds the app and runs specs in it; gives the runner's exit code. */
export async function runE2e(args) {
  const { told, env } = await prepare();
  console.log(told);
  const { code } = await runBin('playwright', ['test', ...args], { env });
  return code;
}

/** Steps that run the specs in so many parts, one at a time in each, over one build. */
export function e2eParts(parts) {
  let prepared;
  return Array.from({ length: parts }, (_, i) =>
    tests(
      `e2e specs, part ${i + 1} of ${parts}`,
      async (file) => {
        prepared ??= prepare();
        const { told, env } = await prepared;
        const part = [`--shard=${i + 1}/${parts}`, '--workers=1'];
        const kept = ['--output', join(root, 'test-results', `part-${i + 1}`)];
        const { code, text } = await runBin('playwright', ['test', ...part, ...kept], {
          capture: true,
          env: { ...env, EVENRACK_E2E_REPORT: file },
        });
        return { code, text: `${told}\n${text}` };
      },
      countSpecs,
    ),
  );
}

/** Counts of Playwright's JSON report. A test that passed only when repeated has failed. */
function countSpecs({ stats, errors = [] }) {
  return {
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + errors.length,
    skipped: stats.skipped,
  };
}
