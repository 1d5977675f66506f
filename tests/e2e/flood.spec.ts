import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { expect, test } from './support/fixtures';

/** The example has a siphon that does not start (1A), one that does not break (1B), a tray that
 * overtops (2A) and a shelf over its rating (2). */
async function openWater(page: Page) {
  await page.getByTestId('example-water').click();
  await page.getByTestId('stage-flood').click();
}

const tray = (page: Page) => page.getByTestId('flood-tray');
const choose = (page: Page, code: string) =>
  page
    .getByTestId('flood-table')
    .getByRole('row', { name: new RegExp(`^${code}`) })
    .click();
const part = (page: Page, name: string) =>
  page.getByTestId('flood-parts').getByText(name, { exact: true }).click();

test('a siphon that does not start is caught, explained, and good once it does', async ({
  desktopPage: page,
}) => {
  await openWater(page);
  await choose(page, '1A');
  await expect(tray(page)).toContainText('siphon trips only from 6 L/min on');
  await expect(tray(page)).toContainText('Give the tray more flow');
  await expect(tray(page)).toContainText('no other way out than its siphon');
  await part(page, 'Zones');
  await page.getByTestId('trip-flow').fill('3.5');
  await page.getByTestId('trip-flow').press('Enter');
  await part(page, 'Trays');
  await expect(tray(page)).toContainText('its siphon trips from 3.5 L/min on');
  await expect(tray(page)).not.toContainText('no other way out');
});

test('a siphon that does not break is caught, explained, and good with a wider bore', async ({
  desktopPage: page,
}) => {
  await openWater(page);
  await choose(page, '1B');
  await expect(tray(page)).toContainText(/siphon does not break while the pump runs/);
  await expect(tray(page)).toContainText('the siphon a wider bore');
  await part(page, 'Zones');
  await page.getByTestId('siphon-bore').fill('20');
  await page.getByTestId('siphon-bore').press('Enter');
  await part(page, 'Trays');
  await expect(tray(page)).not.toContainText('does not break');
  await expect(tray(page)).toContainText(/carries .* more than the .* that come in/);
});

test('a tray that overtops is caught, explained, and good with a wider overflow', async ({
  desktopPage: page,
}) => {
  await openWater(page);
  await choose(page, '2A');
  await expect(tray(page)).toContainText('Tray 2A runs over');
  await expect(tray(page)).toContainText('overflow of 20 mm bore');
  await expect(page.getByTestId('tray-section')).toBeVisible();
  await part(page, 'Zones');
  await page.getByTestId('overflow-bore').fill('50');
  await page.getByTestId('overflow-bore').press('Enter');
  await part(page, 'Trays');
  await expect(tray(page)).not.toContainText('runs over');
});

test('a shelf over its rating is caught, and the heaviest case named', async ({
  desktopPage: page,
}) => {
  await openWater(page);
  await part(page, 'Load & mains');
  const load = page.getByTestId('flood-load');
  await expect(load).toContainText('but it is rated for 45 kg');
  await expect(load).toContainText('heaviest with every drain blocked, trays full to the rim');
  await expect(page.getByTestId('flood-electricity')).toContainText('licensed electrician');
  await expect(page.getByTestId('flood-electricity')).not.toContainText(/\bsafe/i);
});

test('flooding is planned from nothing, undone, and kept in the file', async ({ desktop }) => {
  const { page } = desktop;
  await page.getByTestId('example-two-lamps').click();
  await page.getByTestId('stage-flood').click();
  await page.getByTestId('start-flood').click();
  await expect(page.getByTestId('flood-table')).toBeVisible();
  await part(page, 'Zones');
  await page.getByTestId('crest').fill('33');
  await page.getByTestId('crest').press('Enter');
  await page.keyboard.press('Tab');
  await part(page, 'Day');
  await expect(page.getByTestId('flood-reservoirs')).toContainText('Least reservoir');
  const path = join(desktop.folder, 'flooded.evenrack');
  await desktop.willAnswer(path);
  await page.keyboard.press('Control+Shift+S');
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('"crestMm": 33');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByTestId('start-flood')).toBeVisible();
});
