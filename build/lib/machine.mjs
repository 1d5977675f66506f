// What the tests need from the machine itself, and how it gets there.
import { existsSync } from 'node:fs';
import { chromium } from 'playwright';
import { findBrowser, findOnPath } from '../../electron/browser.mjs';
import { run } from './run.mjs';

// Chromium without its windows: a page starts in half the time.
const windowless = 'chromium-headless-shell';

/** An executable Chromium: named, installed, Playwright's own, or installed now. Throws without. */
export async function needBrowser() {
  const found = ready();
  if (found) return found;
  if (process.env.EVENRACK_BROWSER) {
    throw new Error(`EVENRACK_BROWSER: ${process.env.EVENRACK_BROWSER} is no executable`);
  }
  await installDebian(windowless).catch(() => installDebian('chromium'));
  const installed = ready();
  if (installed) return installed;
  throw new Error(
    'no Chromium-family browser was found; install one, or name one in EVENRACK_BROWSER',
  );
}

function ready() {
  const named = process.env.EVENRACK_BROWSER;
  return (named ? null : findOnPath([windowless])) ?? findBrowser() ?? ownChromium();
}

/** pdftoppm and pdfinfo, with which the printed pages are checked. Throws without. */
export async function needPdfTools() {
  if (await runs('pdfinfo')) return;
  await installDebian('poppler-utils');
  if (await runs('pdfinfo')) return;
  throw new Error('pdfinfo was not found; install poppler-utils');
}

function ownChromium() {
  const file = chromium.executablePath();
  return file && existsSync(file) ? file : null;
}

async function runs(tool) {
  return run(tool, ['-v'], { capture: true }).then(
    ({ code }) => code === 0,
    () => false,
  );
}

let listed = false;

/** Installs a Debian package where this account may; elsewhere does nothing. */
async function installDebian(name) {
  if (process.getuid?.() !== 0 || !(await runs('apt-get'))) return;
  console.log(`installing ${name}`);
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  const steps = [['install', '-y', name]];
  if (!listed) steps.unshift(['update']);
  for (const step of steps) {
    const { code, text } = await run('apt-get', step, { capture: true, env });
    if (code !== 0) throw new Error(`apt-get ${step.join(' ')} failed:\n${text}`);
    listed = true;
  }
}
