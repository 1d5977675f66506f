/**
 * What a value typed into the records costs, from the key to all that the screen shows: CPU time of
 * the parts under Node, then of the page in the built app, with the time to the next cell.
 * Claims: 50 ms of CPU at 2,000 pots and at 10,000; the next cell within half a second, also
 * where values come one upon another.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromium } from 'playwright';
import type { Browser } from 'playwright';
import { findBrowser } from '../../electron/browser.mjs';
import { serveRenderer } from '../../electron/serve';
import { findingsInputOf, noticesOf, stageStates } from '../../renderer/derive';
import { measuredPotsOf, openQuestions } from '../../renderer/derive/records/valueQuestions';
import { enterValues } from '../../renderer/document/commands';
import { writePlan } from '../../renderer/document/open';
import { disagreements } from '../../renderer/document/queries';
import { recordsLook } from '../../renderer/panes/records/look';
import { createPlanStore } from '../../renderer/store/planStore';
import type { Plan } from '../../shared-types/plan';
import { manyRecorded, TEN_THOUSAND, TWO_THOUSAND } from '../builders/manyPots';

/** Pots whose harvest is still to be typed. */
const OPEN = 100;
const TYPED = 10;
/** Long enough for notices that come after the next cell, and for the copy for recovery. */
const SETTLED_MS = 1000;

const cases = [
  { what: '2,000 pots', size: TWO_THOUSAND, limitMs: 50 },
  { what: '10,000 pots', size: TEN_THOUSAND, limitMs: 50 },
] as const;
const columns = [
  { what: 'at the start', measurementId: 'm1', column: 0 },
  { what: 'at harvest', measurementId: 'm2', column: 1 },
] as const;

/** All that the window derives from a plan on the stage of the records. */
const parts: readonly [string, (plan: Plan) => unknown][] = [
  ['questions', openQuestions],
  ['differing', (plan) => disagreements(plan, measuredPotsOf(plan.rack, plan.layout))],
  ['notices', noticesOf],
  ['picture', (plan) => recordsLook(plan, noticesOf(plan))],
  ['stages', (plan) => stageStates(plan, noticesOf(plan))],
  ['findings asked', findingsInputOf],
  ['recovery copy', JSON.stringify],
];

function cpuMs(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

const spread = (ms: readonly number[]): string =>
  `${median(ms).toFixed(0)} ms, at most ${Math.max(...ms).toFixed(0)}`;

function verdict(ms: number, limitMs: number): string {
  if (ms > limitMs) process.exitCode = 1;
  return `${ms.toFixed(0)} ms (${ms <= limitMs ? 'within' : 'OVER'} ${limitMs} ms)`;
}

function typed(plan: Plan, measurementId: string): { total: number; each: string } {
  const store = createPlanStore();
  store.getState().open(plan, null);
  for (const [, derive] of parts) derive(plan);
  const spent = new Map<string, number[]>();
  const count = (name: string, work: () => void) => {
    spent.set(name, [...(spent.get(name) ?? []), cpuMs(work)]);
  };
  const pots = measuredPotsOf(plan.rack, plan.layout).slice(-OPEN);
  for (const [i, { id }] of pots.slice(0, TYPED).entries()) {
    const entries = [{ potId: id, value: 5 + i / 10 }];
    count('dispatch', () => {
      const done = store.getState().dispatch(enterValues, { measurementId, entries });
      if (!done.ok) throw new Error(done.reason);
    });
    const now = store.getState().plan ?? plan;
    for (const [name, derive] of parts) count(name, () => void derive(now));
  }
  const medians = [...spent].map(([name, ms]) => [name, median(ms)] as const);
  return {
    total: medians.reduce((sum, [, ms]) => sum + ms, 0),
    each: medians.map(([name, ms]) => `${name} ${ms.toFixed(1)}`).join(', '),
  };
}

/**
 * Types values in the built app. Of each Enter: milliseconds to the focus of the next cell, and CPU
 * time of the page for it and all that comes after.
 */
async function inWindow(
  browser: Browser,
  url: string,
  plan: Plan,
  column: number,
): Promise<{ reached: number[]; hurried: number[]; cpu: number[] }> {
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
    const choosing = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open a plan' }).click();
    await (await choosing).setFiles(file);
    await page.getByTestId('stage-records').click();
    // It opens at the first pot without a value.
    await page.locator('[data-cell]').first().waitFor();
    await page.getByTestId('records-grid').evaluate((grid) => grid.scrollTo(0, 0));
    await page.locator(`[data-cell="0:${column}"]`).click();
    await page.evaluate(`{
      let struck = 0;
      window.reached = [];
      addEventListener('keydown', ({ key }) => { if (key === 'Enter') struck = performance.now(); }, true);
      addEventListener('focusin', () => { window.reached.push(performance.now() - struck); }, true);
    }`);
    const tools = await context.newCDPSession(page);
    await tools.send('Performance.enable', { timeDomain: 'threadTicks' });
    const pageMs = async () => {
      const { metrics } = await tools.send('Performance.getMetrics');
      return 1000 * (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? NaN);
    };
    const cpu: number[] = [];
    for (let i = 0; i < TYPED; i++) {
      await page.keyboard.type(`3${i % 10}.5`, { delay: 60 });
      await page.waitForTimeout(SETTLED_MS);
      const before = await pageMs();
      await page.keyboard.press('Enter');
      await page.locator(`[data-cell="${i + 1}:${column}"]:focus`).waitFor();
      await page.waitForTimeout(SETTLED_MS);
      cpu.push((await pageMs()) - before);
    }
    const reached = await page.evaluate<number[]>('window.reached.splice(0)');
    // Two people at a balance: the next value comes before all that follows from the last is done.
    for (let i = TYPED; i < 2 * TYPED; i++) {
      await page.keyboard.type(`3${i % 10}.5`, { delay: 60 });
      await page.keyboard.press('Enter');
      await page.locator(`[data-cell="${i + 1}:${column}"]:focus`).waitFor();
    }
    return { reached, hurried: await page.evaluate<number[]>('window.reached'), cpu };
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
for (const { what, size, limitMs } of cases) {
  const plan = manyRecorded(size, OPEN);
  for (const { what: when, measurementId, column } of columns) {
    const { total, each } = typed(plan, measurementId);
    console.log(`${what}, a value ${when}: ${verdict(total, limitMs)} of CPU; ${each}`);
    if (!browser || !served) continue;
    const { reached, hurried, cpu } = await inWindow(browser, served.url, plan, column);
    console.log(
      `  in the window, an Enter and all after it: ${verdict(median(cpu), limitMs)} of CPU; ` +
        `next cell after ${spread(reached)}; one value upon another after ${spread(hurried)}`,
    );
  }
}
if (!browser) console.log('not measured in the window: no browser was found');
await browser?.close();
await served?.close();
