/**
 * Large racks in the built app, ms of CPU of the page: opening, a tray moved by a key, undo, frames per
 * second while the picture is panned and zoomed; then the same racks with all records, stage by stage,
 * a value typed, saved and opened again.
 * Claims: 10,000 pots open in 1.5 s and pan at 60 frames a second, a key that moves a tray takes 100 ms
 * (300 with 50,000), a value 50; all notices and findings of 10,000 harvested pots, as `check` gives
 * them, take 10 s; 200 shelves and 50,000 pots open, are edited and saved.
 */
import { resolve } from 'node:path';
import { chromium } from 'playwright';
import type { Browser, Page } from 'playwright';
import { readFileSync } from 'node:fs';
import { findBrowser } from '../../electron/browser.mjs';
import { serveRenderer } from '../../electron/serve';
import { sceneOf } from '../../renderer/canvas/plane/scene';
import { findingsOfPlan, noticesOf, noticesOfAllRuns } from '../../renderer/derive';
import { readPlan, writePlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';
import { framesPerSecond, median, openedIn, verdict, type Opened } from './inWindow';
import {
  FIFTY_THOUSAND,
  manyPots,
  manyRecorded,
  TEN_THOUSAND,
  TWO_HUNDRED_SHELVES,
} from '../builders/manyPots';

const cases = [
  {
    what: '10,000 pots',
    size: TEN_THOUSAND,
    openMs: 1500,
    moveMs: 100,
    valueMs: 50,
    checkMs: 10_000,
  },
  { what: '200 shelves', size: TWO_HUNDRED_SHELVES },
  { what: '50,000 pots', size: FIFTY_THOUSAND, moveMs: 300 },
] as const;

const stages = ['light', 'flood', 'trial', 'layout', 'chart', 'records', 'findings'] as const;
const MOVED_MS = 2000;
const SETTLED_MS = 2500;
/** Of values that are still to be typed. */
const OPEN = 100;
const TYPED = 5;

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

/** Until the light of all shelves is worked out, and what comes after it. */
async function settled(page: Page): Promise<void> {
  await page.waitForTimeout(SETTLED_MS);
  await page.locator('.rack-working').waitFor({ state: 'detached' });
  await page.waitForTimeout(SETTLED_MS);
}

async function middleOf(page: Page): Promise<{ x: number; y: number }> {
  const box = await page.getByTestId('rack-canvas').boundingBox();
  if (!box) throw new Error('the rack is on the page');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

async function panned(page: Page): Promise<number> {
  const { x, y } = await middleOf(page);
  await page.mouse.move(x, y);
  await page.mouse.down({ button: 'middle' });
  const fps = await framesPerSecond(page, MOVED_MS, (i) =>
    page.mouse.move(x + 90 * Math.sin(i / 12), y + 60 * Math.cos(i / 15)),
  );
  await page.mouse.up({ button: 'middle' });
  return fps;
}

async function zoomed(page: Page): Promise<number> {
  const { x, y } = await middleOf(page);
  await page.mouse.move(x, y);
  return framesPerSecond(page, MOVED_MS, async (i) => {
    await page.mouse.wheel(0, i % 60 < 30 ? -20 : 20);
    await page.waitForTimeout(12);
  });
}

/** The rack alone: opened, looked at, a tray moved. */
async function drawn(browser: Browser, url: string, plan: Plan) {
  const opened = await openedIn(browser, url, plan, settled);
  const { page, openMs, shownMs } = opened;
  try {
    const fps = { front: await panned(page), above: NaN, zoomed: NaN };
    await page.keyboard.press('Escape');
    await page.getByTestId('rack-canvas').focus();
    await page.keyboard.press('3');
    await page.waitForTimeout(1000);
    fps.above = await panned(page);
    fps.zoomed = await zoomed(page);
    await page.getByTestId('rack-canvas').focus();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.waitForTimeout(500);
    const press = (keys: string) =>
      opened.spentMs(
        () => page.keyboard.press(keys),
        () => settled(page),
      );
    await press('ArrowRight');
    return {
      openMs,
      shownMs,
      fps,
      moveMs: await press('ArrowRight'),
      undoMs: await press('Control+z'),
    };
  } finally {
    await opened.close();
  }
}

/** Types values into cells that are empty; ms of CPU of each. */
async function typed({ page, spentMs }: Opened, pots: number): Promise<number[]> {
  const from = pots - OPEN + 3;
  await page.getByTestId('records-grid').evaluate((grid, y) => grid.scrollTo(0, y), from * 30 - 90);
  await page.locator(`[data-cell="${from}:1"]`).click();
  await page.waitForTimeout(SETTLED_MS);
  const spent: number[] = [];
  for (let i = 0; i < TYPED; i++) {
    await page.keyboard.type(`3${i}.5`, { delay: 60 });
    await page.waitForTimeout(SETTLED_MS);
    const next = page.locator(`[data-cell="${from + i + 1}:1"]:focus`);
    spent.push(
      await spentMs(
        () => page.keyboard.press('Enter'),
        () => next.waitFor().then(() => page.waitForTimeout(SETTLED_MS)),
      ),
    );
  }
  return spent;
}

/** The whole trial: each stage, values typed, saved; what is saved is opened again. */
async function recorded(browser: Browser, url: string, plan: Plan, pots: number) {
  const opened = await openedIn(browser, url, plan, settled);
  const { page, openMs, spentMs } = opened;
  try {
    const byStage: string[] = [];
    for (const stage of stages) {
      const ms = await spentMs(
        () => page.getByTestId(`stage-${stage}`).click(),
        () => settled(page),
      );
      byStage.push(`${stage} ${ms.toFixed(0)}`);
    }
    await page.getByTestId('stage-records').click();
    await page.locator('[data-cell]').first().waitFor();
    const valueMs = median(await typed(opened, pots));
    const heldMb = await opened.heldMb();
    const downloading = page.waitForEvent('download');
    let path = '';
    const saveMs = await spentMs(
      () => page.keyboard.press('Control+s'),
      async () => {
        path = await (await downloading).path();
        await page.waitForTimeout(SETTLED_MS);
      },
    );
    const read = readPlan(readFileSync(path, 'utf8'));
    if (!read.ok) throw new Error('what was saved cannot be opened again');
    const values = Object.keys(read.plan.records.values['m2'] ?? {}).length;
    if (values <= pots - OPEN) throw new Error(`${values} values were saved, none that was typed`);
    return { openMs, byStage: byStage.join(', '), valueMs, heldMb, saveMs };
  } finally {
    await opened.close();
  }
}

const executablePath = findBrowser();
const browser = executablePath
  ? await chromium.launch({ executablePath, chromiumSandbox: process.getuid?.() !== 0 })
  : null;
const served = browser && (await serveRenderer(resolve('out', 'renderer')));
for (const { what, size, ...limits } of cases) {
  const limit = {
    openMs: Infinity,
    moveMs: Infinity,
    valueMs: Infinity,
    checkMs: null,
    ...limits,
  };
  const plan = manyPots(size);
  console.log(`${what}, ms of CPU: ${parts(plan)}`);
  if (limit.checkMs !== null) {
    const harvested = manyRecorded(size);
    const ms = cpuMs(() => void noticesOfAllRuns(harvested, findingsOfPlan(harvested)));
    console.log(`  all notices and findings of its harvest: ${verdict(ms, limit.checkMs)}`);
  }
  if (!browser || !served) continue;
  const rack = await drawn(browser, served.url, plan);
  console.log(
    `  the rack: opened with ${verdict(rack.openMs, limit.openMs)} of CPU, shown after ${rack.shownMs.toFixed(0)} ms; ` +
      `a tray moved by a key ${verdict(rack.moveMs, limit.moveMs)}, undone ${verdict(rack.undoMs)}; frames a second: ` +
      `panned from the front ${rack.fps.front.toFixed(0)}, from above ${rack.fps.above.toFixed(0)}, zoomed ${rack.fps.zoomed.toFixed(0)}`,
  );
  const pots = size.shelves * size.traysPerShelf * size.rows * size.columns;
  const trial = await recorded(browser, served.url, manyRecorded(size, OPEN), pots);
  console.log(
    `  with all records: opened with ${verdict(trial.openMs)} of CPU; stages ${trial.byStage}; ` +
      `a value and all after it ${verdict(trial.valueMs, limit.valueMs)}; ` +
      `saved ${verdict(trial.saveMs)}; ${trial.heldMb.toFixed(0)} MB held`,
  );
}
if (!browser) console.log('not measured in the window: no browser was found');
await browser?.close();
await served?.close();
