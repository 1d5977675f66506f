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
  if (value === undefined) Reflect.deleteProperty(at, last);
  else at[last] = value;
  return JSON.stringify(plan);
}

const run = ['runs', 0];
const shelf = ['rack', 'shelves', 0];
const tray = [...shelf, 'trays', 0];

const broken: [kind: string, text: () => Promise<string>, says: RegExp][] = [
  ['an empty file', async () => '', /file is empty/],
  ['a cut file', async () => (await readFile(example, 'utf8')).slice(0, 3000), /breaks off.*line/],
  ['no JSON at all', async () => 'shelf;tray;pot\n1;A;1\n', /line 1, column 1/],
  ['NaN', async () => (await damaged(['nextId'], 5)).replace(':5,', ':NaN,'), /found "NaN"/],
  ['a list', async () => '[]', /not an Evenrack plan/],
  ['another program’s JSON', async () => '{"name":"x"}', /not an Evenrack plan/],
  ['a plan of a later version', () => damaged(['version'], 99), /99/],
  ['a missing part', () => damaged(['rack'], undefined), /rack/],
  ['an unknown field', () => damaged(['colour'], 'red'), /colour/],
  ['a width in words', () => damaged([...tray, 'widthMm'], 'wide'), /trays\[0\]\.widthMm.*"wide"/],
  ['a negative size', () => damaged([...shelf, 'depthMm'], -5), /shelves\[0\]\.depthMm.*-5/],
  [
    'a number beyond all numbers',
    async () => (await damaged([...shelf, 'widthMm'], 77777)).replace('77777', '1e999'),
    /widthMm/,
  ],
  ['a shelf number with a fraction', () => damaged([...shelf, 'number'], 1.5), /number.*1\.5/],
  ['a tray letter of digits', () => damaged([...tray, 'letter'], '12'), /letter.*"12"/],
  ['an id that is none', () => damaged([...tray, 'id'], 'first tray'), /id.*"first tray"/],
  ['two trays with one id', () => damaged([...shelf, 'trays', 1, 'id'], 't11'), /t11/],
  ['a lamp of no kind', () => damaged([...shelf, 'lamps', 0, 'kindId'], 'k9'), /k9/],
  ['a date that is none', () => damaged([...run, 'harvestDate'], '2026-02-30'), /harvestDate/],
  ['a dimming above full', () => damaged([...shelf, 'lamps', 0, 'dimming'], 1.2), /dimming.*1\.2/],
  ['a value of no measurement', () => damaged([...run, 'records', 'values', 'm99'], {}), /m99/],
  [
    'a value in words',
    () => damaged([...run, 'records', 'values', 'm60', 't11:1:1'], 'heavy'),
    /"heavy"/,
  ],
  [
    'a layout with a level nobody planned',
    () => damaged([...run, 'layout', 'assignments', 0, 'levels', 'f50'], 'v99'),
    /v99/,
  ],
  ['a grid of a million pots', () => damaged([...tray, 'grid', 'rows'], 1_000_000), /rows/],
  ['an id that was never given out', () => damaged(['nextId'], 3), /nextId/],
];

async function edit(page: Page, title: string) {
  await page.getByRole('button', { name: 'Options…' }).click();
  const field = page.getByLabel('Title of the plan');
  await field.fill(title);
  await field.press('Enter');
  await page.getByRole('button', { name: 'Done' }).click();
}

test('each of two dozen broken files is named clearly and leaves the open plan untouched', async ({
  desktop,
}) => {
  const { page, folder } = desktop;
  await page.getByTestId('example-basil').click();
  await expect(page.getByTestId('stage-rack')).toBeVisible();
  expect(broken.length).toBeGreaterThanOrEqual(20);
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
    await alert.click();
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
