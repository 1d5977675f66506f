/** A plan in the built app, opened as a person opens it, with the CPU that its page has used. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, CDPSession, Page } from 'playwright';
import { writePlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';

export interface Opened {
  page: Page;
  /** CPU time of the page's main thread so far, ms. */
  cpuMs(): Promise<number>;
  /** What its scripts hold after a collection of garbage, MB. */
  heldMb(): Promise<number>;
  /** Of one act and all that comes after it, until `settled`. */
  spentMs(act: () => Promise<unknown>, settled: () => Promise<unknown>): Promise<number>;
  openMs: number;
  shownMs: number;
  close(): Promise<void>;
}

const metric = async (tools: CDPSession, wanted: string): Promise<number> => {
  const { metrics } = await tools.send('Performance.getMetrics');
  return metrics.find(({ name }) => name === wanted)?.value ?? NaN;
};

/** `shown`: waits for what is there once the plan is; `settled`: for all that comes after it. */
export async function openedIn(
  browser: Browser,
  url: string,
  plan: Plan,
  settled: (page: Page) => Promise<void>,
): Promise<Opened> {
  const folder = mkdtempSync(join(tmpdir(), 'evenrack-bench-'));
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const close = async () => {
    await context.close();
    rmSync(folder, { recursive: true, force: true });
  };
  try {
    const file = join(folder, 'many.evenrack');
    writeFileSync(file, writePlan(plan));
    const page = await context.newPage();
    page.setDefaultTimeout(180_000);
    // Without the browser's own pickers the app asks for files by a field that can be filled in, and
    // saves by a download.
    await page.addInitScript('delete window.showOpenFilePicker; delete window.showSaveFilePicker;');
    await page.goto(url);
    await page.getByRole('button').first().waitFor();
    const tools = await context.newCDPSession(page);
    await tools.send('Performance.enable', { timeDomain: 'threadTicks' });
    const cpuMs = async () => 1000 * (await metric(tools, 'TaskDuration'));
    const heldMb = async () => {
      await tools.send('HeapProfiler.collectGarbage');
      return (await metric(tools, 'JSHeapUsedSize')) / 1e6;
    };
    const choosing = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open a plan' }).click();
    const before = await cpuMs();
    const began = performance.now();
    await (await choosing).setFiles(file);
    await page.locator('[data-testid="rack-canvas"][data-scale*="."]').waitFor();
    const shownMs = performance.now() - began;
    await settled(page);
    const openMs = (await cpuMs()) - before;
    const spentMs = async (act: () => Promise<unknown>, rest: () => Promise<unknown>) => {
      const start = await cpuMs();
      await act();
      await rest();
      return (await cpuMs()) - start;
    };
    return { page, cpuMs, heldMb, spentMs, openMs, shownMs, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/** Frames per second while something is done again and again for a while. */
export async function framesPerSecond(
  page: Page,
  ms: number,
  act: (nth: number) => Promise<unknown>,
): Promise<number> {
  await page.evaluate(`{
    window.frames = 0;
    window.counting = true;
    const count = () => { window.frames += 1; if (window.counting) requestAnimationFrame(count); };
    requestAnimationFrame(count);
  }`);
  const began = performance.now();
  for (let i = 0; performance.now() - began < ms; i++) await act(i);
  const took = performance.now() - began;
  return (1000 * (await page.evaluate<number>('window.counting = false, window.frames'))) / took;
}

export const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

/** `49 ms (within 50)`; over the limit the bench fails. */
export function verdict(ms: number, limitMs = Infinity): string {
  const said = `${ms.toFixed(0)} ms`;
  if (limitMs === Infinity) return said;
  if (ms > limitMs) process.exitCode = 1;
  return `${said} (${ms <= limitMs ? 'within' : 'OVER'} ${limitMs})`;
}
