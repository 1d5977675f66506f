import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import type { Plan } from '../../shared-types/plan';
import type { Desktop } from './support/desktop';
import { expect } from './support/fixtures';
import { program } from './support/program';

const { readPlan, writePlan } = program;

/** Opens a plan from a file and goes to a stage. */
export async function openStage(desktop: Desktop, plan: Plan, stage: string): Promise<Page> {
  const path = join(desktop.folder, 'plan.evenrack');
  await writeFile(path, writePlan(plan));
  await desktop.willAnswer(path);
  const { page } = desktop;
  await page.keyboard.press('Control+O');
  await page.getByTestId(`stage-${stage}`).click();
  return page;
}

/** Moves the keyboard on with Tab alone, from wherever it is, until it stands on a control. */
export async function tabTo(page: Page, testId: string, most = 300): Promise<void> {
  for (let press = 0; press < most; press++) {
    const at = await page.evaluate(() => document.activeElement?.getAttribute('data-testid'));
    if (at === testId) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`${testId} cannot be reached with ${most} times Tab`);
}

/** The plan as it is saved now. */
export async function saved(desktop: Desktop): Promise<Plan> {
  const path = join(desktop.folder, 'saved.evenrack');
  await desktop.willAnswer(path);
  await desktop.page.keyboard.press('Control+Shift+S');
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('evenrack-plan');
  const read = readPlan(await readFile(path, 'utf8'));
  if (!read.ok) throw new Error('what was saved opens');
  return read.plan;
}

/**
 * Keys as an instrument sends them, 4 ms apart. Real keys carry the time at which they were struck,
 * however busy the page is; so do these. `writing`: they also write, as real ones would.
 */
export async function sendKeys(
  page: Page,
  keys: readonly string[],
  writing = false,
): Promise<void> {
  await page.evaluate(
    ([names, writes]) => {
      let struckMs = performance.now();
      for (const name of names) {
        const [, ctrl, key = name] = /^(Control\+)?(.+)$/s.exec(name) ?? [];
        const init = { key, ctrlKey: ctrl !== undefined, bubbles: true, cancelable: true };
        const event = new KeyboardEvent('keydown', init);
        Object.defineProperty(event, 'timeStamp', { value: struckMs });
        struckMs += 4;
        const goesOn = (document.activeElement ?? document.body).dispatchEvent(event);
        if (writes && goesOn && key.length === 1) document.execCommand('insertText', false, key);
      }
    },
    [keys, writing] as const,
  );
}
