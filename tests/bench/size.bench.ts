/**
 * Large racks in the built app: CPU of opening a plan and of the rack's picture, frames per second
 * while the picture is panned, and milliseconds of an edit until it is shown.
 * Claims: 10,000 pots open in 1.5 s of CPU and pan at 60 frames a second; 200 shelves and 50,000
 * pots open, are edited and saved.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromium } from 'playwright';
import type { Browser, Page } from 'playwright';
import { findBrowser } from '../../electron/browser.mjs';
import { serveRenderer } from '../../electron/serve';
import { sceneOf } from '../../renderer/canvas/plane/scene';
import { noticesOf } from '../../renderer/derive';
import { readPlan, writePlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';
import { FIFTY_THOUSAND, manyPots, TEN_THOUSAND, TWO_HUNDRED_SHELVES } from '../builders/manyPots';

const cases = [
  { what: '10,000 pots', size: TEN_THOUSAND, openMs: 1500 },
  { what: '200 shelves', size: TWO_HUNDRED_SHELVES, openMs: Infinity },
  { what: '50,000 pots', size: FIFTY_THOUSAND, openMs: Infinity },
] as const;

const PANNED_MS = 2000;
const SETTLED_MS = 2500;

function cpuMs(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return Math.round((user + system) / 1000);
}

function parts(plan: Plan): string {
  const text = writePlan(plan);
  const spent = [
    ['read', () => void readPlan(text)],
    ['front', () => void sceneOf(plan.rack, 'front', null)],
    ['all', () => void sceneOf(plan.rack, 'all', null)],
    ['notices', () => void noticesOf(plan)],
    ['write', () => void writePlan(plan)],
  ] as const;
  return spent.map(([name, work]) => `${name} ${cpuMs(work)}`).join(', ');
}

/** CPU of the page so far. */
async function meter(page: Page): Promise<() => Promise<number>> {
  const tools = await page.context().newCDPSession(page);
  await tools.send('Performance.enable', { timeDomain: 'threadTicks' });
  return async () => {
    const { metrics } = await tools.send('Performance.getMetrics');
    return 1000 * (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? NaN);
  };
}

/** Until the light of all shelves is worked out, and what comes after it. */
async function settled(page: Page): Promise<void> {
  await page.waitForTimeout(SETTLED_MS);
  await page.locator('.rack-working').waitFor({ state: 'detached' });
  await page.waitForTimeout(SETTLED_MS);
}

/** Frames per second while the pointer drags the picture to and fro. */
async function panned(page: Page): Promise<number> {
  const box = await page.getByTestId('rack-canvas').boundingBox();
  if (!box) throw new Error('the rack is on the page');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down({ button: 'middle' });
  await page.evaluate(`{
    window.frames = 0;
    window.counting = true;
    const count = () => { window.frames += 1; if (window.counting) requestAnimationFrame(count); };
    requestAnimationFrame(count);
  }`);
  const began = performance.now();
  for (let i = 0; performance.now() - began < PANNED_MS; i++) {
    await page.mouse.move(x + 90 * Math.sin(i / 12), y + 60 * Math.cos(i / 15));
  }
  const ms = performance.now() - began;
  const frames = await page.evaluate<number>('window.counting = false, window.frames');
  await page.mouse.up({ button: 'middle' });
  return (1000 * frames) / ms;
}

async function inWindow(browser: Browser, url: string, plan: Plan) {
  const folder = mkdtempSync(join(tmpdir(), 'evenrack-bench-'));
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  try {
    const file = join(folder, 'many.evenrack');
    writeFileSync(file, writePlan(plan));
    const page = await context.newPage();
    page.setDefaultTimeout(180_000);
    // Without the browser's own pickers the app asks for files by a field that can be filled in.
    await page.addInitScript('delete window.showOpenFilePicker');
    await page.goto(url);
    await page.getByRole('button').first().waitFor();
    const cpu = await meter(page);
    const choosing = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open a plan' }).click();
    const before = await cpu();
    const began = performance.now();
    await (await choosing).setFiles(file);
    await page.locator('[data-testid="rack-canvas"][data-scale*="."]').waitFor();
    const shownMs = performance.now() - began;
    await settled(page);
    const openMs = (await cpu()) - before;
    const fps = { front: await panned(page), all: NaN };
    await page.keyboard.press('Escape');
    await page.getByTestId('rack-canvas').focus();
    await page.keyboard.press('3');
    await page.waitForTimeout(1000);
    fps.all = await panned(page);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.waitForTimeout(500);
    const edit = await cpu();
    await page.keyboard.press('ArrowRight');
    await settled(page);
    return { openMs, shownMs, fps, editMs: (await cpu()) - edit };
  } finally {
    await context.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

const executablePath = findBrowser();
const browser = executablePath
  ? await chromium.launch({ executablePath, chromiumSandbox: process.getuid?.() !== 0 })
  : null;
const served = browser && (await serveRenderer(resolve('out', 'renderer')));
for (const { what, size, openMs: limitMs } of cases) {
  const plan = manyPots(size);
  console.log(`${what}, ms of CPU: ${parts(plan)}`);
  if (!browser || !served) continue;
  const { openMs, shownMs, fps, editMs } = await inWindow(browser, served.url, plan);
  if (openMs > limitMs) process.exitCode = 1;
  console.log(
    `  in the window: opened with ${openMs.toFixed(0)} ms of CPU${limitMs < Infinity ? ` (${openMs <= limitMs ? 'within' : 'OVER'} ${limitMs})` : ''}, ` +
      `shown after ${shownMs.toFixed(0)} ms; panned at ${fps.front.toFixed(0)} frames/s from the front, ` +
      `${fps.all.toFixed(0)} from above; an arrow key ${editMs.toFixed(0)} ms of CPU`,
  );
}
if (!browser) console.log('not measured in the window: no browser was found');
await browser?.close();
await served?.close();
