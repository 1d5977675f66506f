import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Locator, Page } from '@playwright/test';
import { openStage } from './planHelpers';
import { offences } from './support/accessibility';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import { program } from './support/program';

const { smallBasil } = program;

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

test('nothing but panels scrolls, whatever is chosen on any stage', async ({ desktop }) => {
  const page = await openStage(desktop, smallBasil(), 'rack');
  const found: string[] = [];
  const look = async (after: string, choose = false) => {
    const off = await outOfPlace(page, choose);
    if (off !== null) found.push(`${after}: ${off}`);
  };
  for (const stage of stages) {
    await page.getByTestId(`stage-${stage}`).click();
    if (stage === 'findings') await shows(page.getByTestId('findings-words'));
    await look(`${stage}, choices`, true);
    await page.locator('.side').hover();
    await page.mouse.wheel(0, 50_000);
    await page.mouse.wheel(0, 5_000);
    await look(`${stage}, wheel`);
  }
  await page.locator('.side details').evaluateAll((folds) => {
    for (const fold of folds) fold.setAttribute('open', '');
  });
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

type Dialog = [name: string | RegExp, stage: string | null, open: () => Promise<unknown>];

/** No key reaches what lies behind an open dialog; Escape closes it, and nothing has changed. */
async function expectKeysStop(page: Page, [name, stage, open]: Dialog, title: Locator) {
  const focusedIs = (selector: string) =>
    page.evaluate((one) => document.activeElement?.matches(one) ?? false, selector);
  const said = String(name);
  const before = await title.textContent();
  await open();
  const dialog = page.getByRole('dialog', { name });
  await expect(dialog).toBeVisible();
  expect(await focusedIs('dialog .button-danger'), said).toBe(false);
  expect(await focusedIs('dialog *'), said).toBe(true);
  // Once with the focus on an answer, once with none at all.
  for (const away of [false, true]) {
    if (away) await dialog.getByRole('heading').first().click();
    else await dialog.locator('.dialog-actions .button').last().focus();
    for (const key of behind) await page.keyboard.press(key);
    await expect(title).toHaveText(before ?? '');
    if (stage !== null)
      await expect(page.getByTestId(stage)).toHaveAttribute('aria-current', 'step');
    expect(await page.locator('dialog[open]').count(), said).toBe(1);
  }
  await page.keyboard.press('Escape');
  await expect(dialog).toBeHidden();
  await expect.poll(() => focusedIs('body'), said).toBe(false);
}

const behind = ['Control+z', 'Control+y', 'Control+n', 'Alt+1', 'Delete', '1', 'ArrowLeft'];

test('keys stop at every dialog, the safe answer has the focus, and the losing one asks again', async ({
  desktop,
}) => {
  test.setTimeout(120_000);
  const { folder } = desktop;
  let { page } = desktop;
  const title = () => page.locator('.topbar-title strong');
  const goTo = (stage: string) => page.getByTestId(stage).click();
  const options = () => page.getByRole('button', { name: 'Options…' }).click();
  const rename = async (to: string) => {
    await options();
    await page.getByLabel('Title of the plan').fill(to);
    await page.getByLabel('Title of the plan').press('Enter');
    await page.getByRole('button', { name: 'Done' }).click();
    await expect(title()).toHaveText(to);
  };
  const path = join(folder, 'mine.evenrack');
  const table = join(folder, 'table.csv');
  await writeFile(table, 'pot;fresh weight at harvest\n1A-A1;12\n1A-A2;13\n');

  await openStage(desktop, smallBasil(), 'rack');
  await expect(title()).toContainText('Basil');
  await desktop.willAnswer(path);
  await page.keyboard.press('Control+Shift+S');
  await expect(page.locator('.topbar-title')).toContainText('mine.evenrack');
  await rename('Changed');
  await goTo('stage-light');
  await page.getByTestId('fold-readings').locator('summary').first().click();
  const light: Dialog[] = [
    ['Options', 'stage-light', options],
    [
      'Meter readings from a table',
      'stage-light',
      () => page.getByTestId('paste-readings').click(),
    ],
    ['Leave without saving?', 'stage-light', () => page.keyboard.press('Control+n')],
  ];
  for (const dialog of light) await expectKeysStop(page, dialog, title());
  await goTo('stage-records');
  await page.getByTestId('records-panel-tables').click();
  const importing = async () => {
    await desktop.willAnswer(table);
    await page.getByTestId('import').click();
  };
  await expectKeysStop(page, [/^Import /, 'stage-records', importing], title());
  await goTo('stage-findings');
  const reading = async () => {
    await desktop.willAnswer(table);
    await page.getByTestId('open-table').click();
  };
  await expectKeysStop(page, [/^Read /, 'stage-findings', reading], title());
  // Another program changes the file, and so does this window.
  await writeFile(path, (await readFile(path, 'utf8')).replace('"title": "', '"title": "Their '));
  const saving = () => page.keyboard.press('Control+s');
  await expectKeysStop(page, [/has changed meanwhile/, 'stage-findings', saving], title());

  // The copy of the change is there before the kill, at the latest after two seconds.
  await expect.poll(() => readdir(join(folder, 'recovery')).catch(() => [])).not.toEqual([]);
  page = await desktop.killAndRestart();
  const recovery = page.getByRole('dialog', { name: 'Unsaved work was found' });
  await expect(recovery).toBeVisible();
  const heading = recovery.getByRole('heading').first();
  const waits: Dialog = ['Unsaved work was found', null, () => recovery.waitFor()];
  await expectKeysStop(page, waits, heading);
  page = await desktop.killAndRestart();
  await page.getByRole('button', { name: 'Go on with it' }).click();
  await expect(title()).toHaveText('Changed');

  await page.keyboard.press('Control+n');
  await expect(page.getByRole('button', { name: 'Stay' })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(title()).toHaveText('Changed');
  await page.keyboard.press('Control+n');
  await page.getByRole('button', { name: 'Leave, lose' }).dblclick();
  await page.getByRole('button', { name: 'Press again to lose' }).click();
  await expect(title()).toHaveText('Untitled trial');
  // Undo and Redo name their own steps, and here there are none.
  await expect(page.getByTestId('redo')).toHaveAttribute('title', 'Nothing to redo');
});

test('what fails to draw leaves the rest usable, and the work can be saved', async ({
  desktop,
  consoleErrors,
}) => {
  const { page, folder } = desktop;
  await page.evaluate(() => {
    const make = document.createElement.bind(document);
    let canvases = 0;
    // The first two are the picture's own; the layers in it come after them.
    document.createElement = (...args: Parameters<typeof make>) => {
      if (String(args[0]) === 'canvas' && ++canvases > 2 && !('mended' in window)) {
        throw new Error('no canvas left');
      }
      return make(...args);
    };
  });
  await page.getByTestId('example-basil').click();
  // The demo opens at its findings, with two racks beside each other.
  const broken = page.getByTestId('broken-part').first();
  await expect(broken).toContainText('The rack cannot be shown');
  await expect(broken).toContainText('no canvas left');
  await page.getByTestId('stage-layout').click();
  await expect(page.getByTestId('verify')).toBeVisible();
  const path = join(folder, 'rescued.evenrack');
  await desktop.willAnswer(path);
  await broken.getByRole('button', { name: 'Save the plan as…' }).click();
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('evenrack-plan');
  await page.evaluate(() => Object.assign(window, { mended: true }));
  await broken.getByRole('button', { name: 'Try again' }).click();
  await expect(page.getByTestId('rack-canvas')).toBeVisible();
  await expect(broken).toHaveCount(0);
  // What fails after the click that began it is told as well.
  await page.evaluate(() => void Promise.reject(new Error('too late')));
  await expect(broken).toContainText('too late');
  await broken.getByRole('button', { name: 'Try again' }).click();
  await expect(page.getByTestId('rack-canvas')).toBeVisible();
  // What went wrong is written down, and told to who asks.
  await page.getByRole('button', { name: 'Help' }).click();
  await page.getByRole('menuitem', { name: 'About Evenrack' }).click();
  const about = page.getByTestId('about');
  await about.getByTestId('about-log').locator('summary').click();
  await expect(about).toContainText(join(folder, 'errors.log'));
  await expect(about).toContainText('no canvas left');
  await expect(about).toContainText('too late');
  await page.keyboard.press('Escape');
  await expect(about).toBeHidden();
  // The browser's console tells the developer of each.
  expect(consoleErrors.splice(0).length).toBeGreaterThan(0);
});

test('numbers and days are written anew as soon as another way is chosen', async ({ desktop }) => {
  const page = await openStage(desktop, smallBasil(), 'light');
  const tray = () => page.getByRole('row', { name: /^Tray 1A/ });
  await expect(tray()).toContainText(/[0-9]\.[0-9]/);
  const options = page.getByRole('button', { name: 'Options…' });
  await options.click();
  await page.getByTestId('written-decimal').selectOption({ label: '2,5' });
  await page.getByTestId('written-days').selectOption({ label: 'Mar 2, 2026' });
  await page.keyboard.press('Escape');
  await expect(options).toBeFocused();
  await expect(tray()).toContainText(/[0-9],[0-9]/);
  await expect(tray()).not.toContainText(/[0-9]\.[0-9]/);
  await page.getByTestId('stage-trial').click();
  const start = page.getByTestId('trial-start');
  await expect(start).toHaveValue('Mar 2, 2026');
  // Sunday is the first day of a week here; 1 March 2026 was one.
  await page.getByTestId('trial-start-calendar').click();
  await expect(page.getByRole('button', { name: 'Mar 2, 2026', exact: true })).toBeFocused();
  await page.keyboard.press('Home');
  await page.keyboard.press('Enter');
  await expect(start).toHaveValue('Mar 1, 2026');
});

test('terms are explained by pointing, focus and F1; help and captions stand in no way', async ({
  desktop,
}) => {
  const page = await openStage(desktop, smallBasil(), 'trial');
  const tip = page.getByRole('tooltip');
  const caption = page.getByTestId('caption');
  await expect(caption).toContainText('whether this trial can answer');

  // By pointing, by focus; Escape takes it away.
  await page.locator('aside [data-term="block"]').first().hover();
  await expect(tip).toContainText('Treatments are shuffled within each');
  await page.keyboard.press('Escape');
  await expect(tip).toBeHidden();
  await page.locator('aside details').evaluateAll((folds) => {
    for (const fold of folds) fold.setAttribute('open', '');
  });
  const field = page.getByLabel('Applied through').first();
  await field.focus();
  await page.keyboard.press('F1');
  await expect(tip).toContainText('How a level gets to the plants');

  // F1 again opens the glossary at the term, beside the work; Escape gives the keyboard back.
  await page.keyboard.press('F1');
  const help = page.getByTestId('help-panel');
  await expect(help.getByTestId('term-application')).toBeVisible();
  await expect(page.getByTestId('stage-light')).toBeEnabled();
  expect(await offences(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await expect(field).toBeFocused();

  // A caption comes once, and again only when it is asked for; turned off, none comes.
  await page.getByTestId('stage-light').click();
  await expect(caption).toContainText('estimated from your lamps');
  await page.getByTestId('stage-trial').click();
  await expect(caption).toBeHidden();
  await page.getByTestId('help').focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('End');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await expect(caption).toBeVisible();
  await caption.getByRole('button', { name: 'No captions' }).press('Enter');
  await expect(page.getByTestId('stage-trial')).toBeFocused();
  await page.getByTestId('stage-flood').click();
  await expect(caption).toBeHidden();

  // Steps lead to their stage, and stay open beside it.
  await page.getByTestId('help').click();
  await page.getByTestId('help-steps').click();
  await help.getByRole('button', { name: 'Layout' }).click();
  await expect(page.getByTestId('stage-layout')).toHaveAttribute('aria-current', 'step');
  await expect(help).toBeVisible();
});
