import { findElectron } from '../../electron/browser.mjs';
import { buildElectron, buildRenderer } from './app.mjs';
import { needBrowser, needPdfTools } from './machine.mjs';
import { runBin } from './run.mjs';

/** Builds the app and runs the specs in it; gives the runner's exit code. */
export async function runE2e(args, reportFile) {
  const browser = await needBrowser();
  await needPdfTools();
  await buildRenderer();
  await buildElectron();
  const electron = findElectron();
  console.log(
    electron
      ? `The specs run in ${browser} and in Electron.`
      : `The specs run in ${browser}; not run: the same specs in Electron, whose runtime is not here.`,
  );
  const { code } = await runBin('playwright', ['test', ...args], {
    env: {
      EVENRACK_BROWSER: browser,
      ...(electron ? { EVENRACK_ELECTRON: electron } : {}),
      ...(reportFile ? { EVENRACK_E2E_REPORT: reportFile } : {}),
    },
  });
  return code;
}

/** Counts of Playwright's JSON report. A test that passed only when repeated has failed. */
export function countSpecs({ stats, errors = [] }) {
  return {
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + errors.length,
    skipped: stats.skipped,
  };
}
