import type { Page } from '@playwright/test';
import { expect, test } from './support/fixtures';

const stages = ['rack', 'light', 'flood', 'trial', 'layout', 'chart', 'records', 'findings'];

/**
 * Where the window was scrolled to; null where every part of it is in its place. First chooses all
 * that can be chosen on screen, as a person does who moves through it with the keys.
 */
function outOfPlace(page: Page, choose: boolean): Promise<string | null> {
  return page.evaluate((all) => {
    const choices = [...document.querySelectorAll<HTMLInputElement>('.segmented input')];
    for (const choice of all ? choices : []) {
      choice.click();
      choice.focus();
    }
    const frame = document.querySelector('.app')?.getBoundingClientRect();
    const scrolled = ['html', 'body', '#root', '.app'].filter(
      (one) => document.querySelector(one)?.scrollTop !== 0,
    );
    const inView = frame?.top === 0 && frame.bottom === window.innerHeight;
    return inView && scrolled.length === 0 ? null : `${scrolled.join()} at ${String(frame?.top)}`;
  }, choose);
}

test('nothing but panels scrolls, whatever is chosen on any stage', async ({ desktopPage }) => {
  test.setTimeout(150_000);
  const page = desktopPage;
  const found: string[] = [];
  const look = async (after: string, choose = false) => {
    const off = await outOfPlace(page, choose);
    if (off !== null) found.push(`${after}: ${off}`);
  };
  await page.getByTestId('example-basil').click();
  for (const stage of stages) {
    await page.getByTestId(`stage-${stage}`).click();
    if (stage === 'findings') {
      await expect(page.getByTestId('findings-words')).toBeVisible({ timeout: 90_000 });
    }
    await look(`${stage}, choices`, true);
    await page.locator('.side').hover();
    await page.mouse.wheel(0, 50_000);
    await page.mouse.wheel(0, 5_000);
    await look(`${stage}, wheel`);
  }
  await page.locator('.side .segmented label').last().click();
  await look('a click on the last choice of the findings');
  // Things far below the window that take the focus, wherever they hang.
  await page.evaluate(() => {
    for (const home of ['body', '.app', '.side', '.rack-area']) {
      const stray = document.createElement('button');
      stray.style.cssText = 'position: absolute; top: 9000px';
      document.querySelector(home)?.append(stray);
      stray.focus();
      stray.remove();
    }
  });
  await look('a stray focus');
  expect(found).toEqual([]);
});
