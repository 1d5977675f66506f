import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { findElectron } from '../../electron/browser.mjs';
import { buildElectron, buildRenderer } from './app.mjs';
import { bundleForNode } from './bundle.mjs';
import { needBrowser, needPdfTools } from './machine.mjs';
import { countSpecs } from './reports.mjs';
import { root, runBin } from './run.mjs';
import { contentment, tests } from './steps.mjs';

/** Gets what the specs need and builds the app; gives the environment in which they run. */
async function prepare() {
  const browser = await needBrowser();
  await needPdfTools();
  await buildRenderer();
  await buildElectron();
  await bundleSpecs();
  const electron = findElectron();
  const told = electron
    ? `The specs run in ${browser} and in Electron.`
    : `The specs run in ${browser}; not run: the same specs in Electron, whose runtime is not here.`;
  return {
    told,
    env: { EVENRACK_BROWSER: browser, ...(electron ? { EVENRACK_ELECTRON: electron } : {}) },
  };
}

/** What the specs take from the program, for tests/e2e/support/program.ts. */
async function bundleSpecs() {
  const source = join(root, 'tests', 'e2e', 'support', 'forSpecs.ts');
  await bundleForNode(
    source,
    join(root, 'node_modules', '.cache', 'evenrack', 'e2e', 'forSpecs.mjs'),
    {
      // Sources that read files do it from a folder at their depth.
      define: {
        'import.meta.url': JSON.stringify(pathToFileURL(join(root, 'tests', 'e2e', 'x')).href),
      },
    },
  );
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
