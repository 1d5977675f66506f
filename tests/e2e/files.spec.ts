import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { expect, test } from './support/fixtures';

const example = join(import.meta.dirname, '../../renderer/app/examples/basil.json');

type Raw = Record<string, unknown>;

/** The demo with one value set to another, by path. */
async function damaged(path: (string | number)[], value: unknown): Promise<string> {
  const plan = JSON.parse(await readFile(example, 'utf8')) as Raw;
  let at: Raw = plan;
  for (const part of path.slice(0, -1)) at = at[part] as Raw;
  const last = path.at(-1) ?? '';
  at[last] = value;
  return JSON.stringify(plan);
}

const run = ['runs', 0];
const shelf = ['rack', 'shelves', 0];
const tray = [...shelf, 'trays', 0];

// One of each way in which a file is refused; tests/document/open/brokenFiles.test.ts has them all.
const broken: [kind: string, text: () => Promise<string>, says: RegExp][] = [
  ['an empty file', async () => '', /file is empty/],
  ['a cut file', async () => (await readFile(example, 'utf8')).slice(0, 3000), /breaks off.*line/],
  ['another program’s JSON', async () => '{"name":"x"}', /not an Evenrack plan/],
  ['a plan of a later version', () => damaged(['version'], 99), /99/],
  ['a width in words', () => damaged([...tray, 'widthMm'], 'wide'), /trays\[0\]\.widthMm.*"wide"/],
  ['two trays with one id', () => damaged([...shelf, 'trays', 1, 'id'], 't11'), /t11/],
  ['a value of no measurement', () => damaged([...run, 'records', 'values', 'm99'], {}), /m99/],
];

async function edit(page: Page, title: string) {
  await page.getByRole('button', { name: 'Options…' }).click();
  const field = page.getByLabel('Title of the plan');
  await field.fill(title);
  await field.press('Enter');
  await page.getByRole('button', { name: 'Done' }).click();
}

test('each broken file is named clearly and leaves the open plan untouched', async ({
  desktop,
}) => {
  const { page, folder } = desktop;
  await page.getByTestId('example-basil').click();
  await expect(page.getByTestId('stage-rack')).toBeVisible();
  for (const [kind, text, says] of broken) {
    const path = join(folder, 'broken.evenrack');
    await writeFile(path, await text());
    await desktop.willAnswer(path);
    await page.keyboard.press('Control+O');
    const alert = page.getByRole('alert');
    await expect(alert, kind).toHaveText(says);
    await expect(page.locator('.topbar-title strong')).toHaveText(
      'Basil, feed by cultivar, spring',
    );
    await expect(page.locator('.topbar-title')).not.toContainText('unsaved');
    await alert.getByRole('button', { name: 'Close' }).click();
    await expect(alert).toBeHidden();
  }
});

test('a kill while editing loses at most the last two seconds', async ({ desktop }) => {
  let { page } = desktop;
  await page.getByTestId('example-basil').click();
  await expect(page.getByTestId('stage-rack')).toBeVisible();
  await edit(page, 'Before the kill');
  await page.waitForTimeout(2000);
  await edit(page, 'Too late to be kept for sure');
  page = await desktop.killAndRestart();
  const recovery = page.getByTestId('recovery');
  await expect(recovery).toBeVisible();
  // Escape loses nothing, now or at the next start, and Enter throws nothing away.
  await expect(page.getByRole('button', { name: 'Go on with it' })).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(recovery).toBeHidden();
  await expect(page.getByText('One kept copy waits')).toBeVisible();
  page = await desktop.killAndRestart();
  await page.getByRole('button', { name: 'Throw it away' }).dblclick();
  await expect(page.getByRole('button', { name: 'Press again' })).toBeFocused();
  await page.getByRole('button', { name: 'Go on with it' }).click();
  const title = page.locator('.topbar-title strong');
  await expect(title).toHaveText(/Before the kill|Too late to be kept for sure/);
  await expect(page.locator('.topbar-title')).toContainText('unsaved changes');
});

test('a plan is saved, changed, undone and opened again from the recent list', async ({
  desktop,
}) => {
  const { page, folder } = desktop;
  const path = join(folder, 'mine.evenrack');
  await page.getByTestId('example-basil').click();
  await expect(page.getByTestId('stage-rack')).toBeVisible();
  await desktop.willAnswer(path);
  await page.keyboard.press('Control+Shift+S');
  await expect(page.locator('.topbar-title')).toContainText('mine.evenrack');
  await edit(page, 'Renamed');
  await expect(page.locator('.topbar-title')).toContainText('unsaved changes');
  // Each names the step it would take, and Redo the one that was undone.
  const [undo, redo] = [page.getByTestId('undo'), page.getByTestId('redo')];
  await edit(page, 'Renamed again');
  await expect(undo).toHaveAttribute('title', 'Undo: Rename plan to Renamed again (Ctrl+Z)');
  await undo.click();
  await expect(undo).toHaveAttribute('title', 'Undo: Rename plan to Renamed (Ctrl+Z)');
  await expect(redo).toHaveAttribute('title', /^Redo: Rename plan to Renamed again /);
  await page.keyboard.press('Control+Z');
  await expect(redo).toHaveAttribute('title', /^Redo: Rename plan to Renamed \(/);
  await expect(page.locator('.topbar-title')).not.toContainText('unsaved changes');
  await page.keyboard.press('Control+Shift+Z');
  await page.keyboard.press('Control+S');
  await expect(page.locator('.topbar-title')).not.toContainText('unsaved changes');
  expect(await readFile(path, 'utf8')).toContain('"title": "Renamed"');
  // By keys alone: all of it as one archive.
  const all = join(folder, 'all.zip');
  await desktop.willAnswer(all);
  const planMenu = page.getByTestId('plan-menu');
  await planMenu.focus();
  for (const key of ['Enter', 'End', 'Enter']) await page.keyboard.press(key);
  await expect.poll(() => readFile(all, 'latin1').catch(() => '')).toContain('records.csv');
  await expect(planMenu).toBeFocused();
  // A sync folder changes the file, and so does this window.
  await writeFile(path, (await readFile(path, 'utf8')).replace('"Renamed"', '"Theirs"'));
  await edit(page, 'Mine');
  await page.keyboard.press('Control+S');
  const conflict = page.getByTestId('conflict');
  await expect(conflict).toContainText('has changed meanwhile');
  await expect(page.getByTestId('plan-comparison')).toContainText('TitleMineTheirs');
  await expect(conflict.getByRole('button', { name: 'Keep both' })).toBeFocused();
  for (const answer of ['Take theirs', 'Overwrite the file']) {
    await conflict.getByRole('button', { name: answer }).dblclick();
    await expect(conflict.getByRole('button', { name: 'Press again to lose' })).toBeFocused();
    await conflict.getByRole('button', { name: 'Not now' }).focus();
  }
  await page.keyboard.press('Escape');
  await expect(conflict).toBeHidden();
  await expect(page.locator('.topbar-title')).toContainText('unsaved changes');
  expect(await readFile(path, 'utf8')).toContain('"title": "Theirs"');
  await page.keyboard.press('Control+S');
  await desktop.willAnswer(join(folder, 'other.evenrack'));
  await conflict.getByRole('button', { name: 'Keep both' }).click();
  await expect(page.locator('.topbar-title')).toContainText('other.evenrack');
  expect(await readFile(join(folder, 'other.evenrack'), 'utf8')).toContain('"title": "Mine"');
  await edit(page, 'Renamed');
  await desktop.willAnswer(path);
  await page.keyboard.press('Control+Shift+S');
  await expect(page.locator('.topbar-title')).toContainText('mine.evenrack');
  await page.getByRole('button', { name: 'Evenrack' }).click();
  await page.getByRole('button', { name: 'mine.evenrack' }).click();
  await expect(page.locator('.topbar-title strong')).toHaveText('Renamed');
});
