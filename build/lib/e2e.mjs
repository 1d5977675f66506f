import { availableParallelism } from 'node:os';
import { findElectron } from '../../electron/browser.mjs';
import { buildElectron, buildRenderer } from './app.mjs';
import { needBrowser, needPdfTools } from './machine.mjs';
import { countSpecs } from './reports.mjs';
import { runBin } from './run.mjs';
import { contentment, tests } from './steps.mjs';

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

let built;

/** Builds the app while other checks run. */
export const buildStep = contentment('build', async () => {
  built = await prepare();
  return { code: 0, text: built.told };
});

/** Runs all specs in what `buildStep` has built, on all processors. */
export const e2eStep = tests(
  'e2e specs',
  async (file) => {
    if (!built) return { code: 1, text: 'not run, because the app was not built' };
    const args = ['test', `--workers=${availableParallelism()}`];
    return runBin('playwright', args, {
      capture: true,
      env: { ...built.env, EVENRACK_E2E_REPORT: file },
    });
  },
  countSpecs,
);
