import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { undrawn } from '../builders/examplePlans';
import { openStage } from './planHelpers';
import { expect, test } from './support/fixtures';

/** The example has a siphon that does not start (1A), one that does not break (1B), a tray that
 * overtops (2A) and a shelf over its rating (2). */
async function openWater(page: Page) {
  await page.getByTestId('example-water').click();
  await page.getByTestId('stage-flood').click();
  await part(page, 'Trays');
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
  const page = await openStage(desktop, undrawn('two-lamps'), 'flood');
  await page.getByTestId('start-flood').click();
  const overview = page.getByTestId('flood-overview');
  await page.getByTestId('known-on').fill('1');
  await page.getByTestId('known-on').press('Enter');
  await expect(overview).toContainText(/needs \d+ s, gets 60: reaches \d+ of 40 mm/);
  const mend = page.getByTestId('flood-mends').getByRole('button').first();
  await expect(mend).toHaveText(/^Run \d+ min/);
  await mend.press('Enter');
  // The button is gone, and the focus is not.
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).not.toBe('BODY');
  await expect(overview).toContainText(/flood to .* and drain in/);
  await part(page, 'Trays');
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
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('"floodDepthMm": 33');
  for (let steps = 4; steps > 0; steps--) await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByTestId('start-flood')).toBeVisible();
});

const goToNotice = async (page: Page, kind: string, about = '') => {
  await page.getByTestId('open-notices').click();
  const notice = page.locator(`.notice[data-kind="${kind}"]`, { hasText: about }).first();
  await notice.getByRole('button', { name: 'Go there' }).click();
  await page.getByTestId('notices').getByRole('button', { name: 'Close' }).click();
};

test('the notice of a reservoir leads to its trays and zone, that of a circuit to the mains', async ({
  desktopPage: page,
}) => {
  await openWater(page);
  await choose(page, '2B');
  await part(page, 'Zones');
  await page.getByTestId('reservoir').fill('12');
  await page.getByTestId('reservoir').press('Enter');
  await expect(page.getByTestId('flood-zone')).toContainText('It runs dry at');
  await page.getByTestId('stage-rack').click();
  await goToNotice(page, 'reservoir-too-small', 'reservoir of tray 2B');
  await expect(tray(page)).toContainText('Tray 2B');
  const around = page.getByTestId('flood-around');
  await expect(around).toContainText('The reservoir of tray 2B holds 12 L');
  await around.getByRole('button', { name: 'Go to its zone' }).click();
  await expect(page.getByTestId('reservoir')).toHaveValue('12');

  await part(page, 'Load & mains');
  await page.getByLabel('Breaker').fill('1');
  await page.getByLabel('Breaker').press('Enter');
  await page.getByTestId('stage-rack').click();
  await goToNotice(page, 'circuit-overloaded');
  await expect(page.getByTestId('flood-electricity')).toContainText('more than it lets through');
});

test('margins stand as figures beside fill, drain, reservoir and load', async ({
  desktopPage: page,
}) => {
  await page.getByTestId('example-basil').click();
  await page.getByTestId('stage-flood').click();
  await expect(page.getByTestId('flood-overview')).toContainText(
    'All 9 trays flood to 37–40 mm in 43–70 s and drain in 72–75 s.',
  );
  await part(page, 'Trays');
  await expect(page.getByTestId('flood-table').getByRole('row').nth(1)).toContainText(
    /\d+ s\d+ %.*\d+ sover \d+ %/,
  );
  await expect(tray(page)).toContainText(/the pump runs 10 min, .* longer: margin \d+ %/);
  await part(page, 'Day');
  await expect(page.getByTestId('flood-reservoirs').getByRole('row').nth(1)).toContainText(
    /\d\.\d, \d+ %/,
  );
  await part(page, 'Load & mains');
  await expect(page.getByTestId('flood-load')).toContainText(/\d kg are left, margin \d+ %/);
  await expect(page.getByTestId('flood-electricity')).toContainText(/A are left, margin \d+ %/);
});

test('a plan in inches speaks of gallons and pounds, and takes them', async ({
  desktopPage: page,
}) => {
  await page.getByTestId('example-water').click();
  await page.getByTestId('stage-rack').click();
  await page.getByTestId('length-display').getByText('imperial').click();
  await page.getByTestId('stage-flood').click();
  const side = page.locator('.flood-side');
  for (const name of ['Overview', 'Trays', 'Zones', 'Day', 'Load & mains']) {
    await part(page, name);
    // Words of the electricity cautions and of the person's own names aside, nothing metric is left.
    await expect(side).not.toContainText(/\d (mm|L|L\/min|kg|m)\b/);
  }
  await part(page, 'Zones');
  // 50 L at 3.785411784 L a US gallon.
  await expect(page.getByTestId('reservoir')).toHaveValue('13.209');
  await page.getByTestId('reservoir').fill('20');
  await page.getByTestId('reservoir').press('Enter');
  await expect(page.getByTestId('reservoir')).toHaveValue('20');
  await expect(page.getByTestId('flood-zone')).toContainText('holds 20 gal');
  await page.getByTestId('pump-curve').fill('0 : 2; 8 : 0');
  await page.getByTestId('pump-curve').press('Enter');
  await expect(page.getByTestId('pump-curve')).toHaveValue('0 : 2; 8 : 0');
  await page.getByTestId('pump-curve').fill('0 : 1; 8 : 2');
  await page.getByTestId('pump-curve').press('Enter');
  await expect(page.getByText('flow falling as head rises')).toBeVisible();
});

test('day and night differ, and zones that flood together are told', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'flood');
  await page.getByTestId('start-flood').click();
  await part(page, 'Zones');
  await page.getByRole('button', { name: 'Add hours' }).click();
  await page.getByTestId('on-1').fill('5');
  await page.getByTestId('on-1').press('Enter');
  await page.getByRole('button', { name: 'Add zone' }).click();
  await part(page, 'Day');
  await expect(page.getByTestId('flood-overlaps')).toContainText(
    'zone 1 and zone 2 flood together from 6:00 to 6:15',
  );
  await part(page, 'Zones');
  for (let left = 2; left > 0; left--) {
    await page.getByRole('button', { name: 'Remove zone' }).press('Enter');
  }
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).not.toBe('BODY');
  await expect(page.getByText('No zone yet')).toBeVisible();
  await part(page, 'Trays');
  await expect(page.getByText('No zone yet')).toBeVisible();
  await page.getByTestId('add-zone').click();
  await expect(page.getByTestId('flood-table')).toBeVisible();
});
