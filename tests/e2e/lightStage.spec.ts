import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { undrawn } from '../builders/examplePlans';
import { openStage } from './planHelpers';
import { offences } from './support/accessibility';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import { clickAt, lookFromAbove, placeOf, startEmpty, startExample } from './rackHelpers';

// What a grower does at the light stage: hang lamps better, brighten sides, meter, move trays.

async function openLight(page: Page, fold?: string): Promise<void> {
  await startExample(page, 'basil');
  await page.getByTestId('stage-light').click();
  await expect(page.getByTestId('evenness')).toContainText('Tray 1A');
  if (fold) await page.getByTestId(`fold-${fold}`).locator('summary').first().click();
}

/** The readings' fold before anybody went round with a meter. */
async function openUnread(page: Page): Promise<void> {
  await openLight(page, 'readings');
  await page.getByTestId('drop-readings').click();
  await expect(page.getByTestId('light-standing')).toContainText('Estimated');
}

const undo = (page: Page) => page.getByRole('button', { name: 'Undo' });

test('a rack without lamps has no figures of light, and says so', async ({ desktopPage: page }) => {
  await startEmpty(page);
  await page.getByTestId('stage-light').click();
  await expect(page.getByTestId('no-lamps')).toContainText('no lamps on the rack yet');
  await expect(page.getByTestId('evenness')).toHaveCount(0);
  await expect(page.getByText('Mean PPFD')).toHaveCount(0);
});

test('evenness is told by tray, shelf, block and treatment', async ({ desktopPage: page }) => {
  await openLight(page);
  await expect(page.getByTestId('light-standing')).toContainText('Calibrated');
  await expect(page.getByTestId('light-standing')).toContainText('±');
  for (const [group, first] of [
    ['Shelves', 'Shelf 1'],
    ['Blocks', 'Shelf 1'],
    ['Treatments', 'Brookleaf'],
  ] as const) {
    await page.getByTestId('evenness-by').getByText(group).click();
    await expect(page.getByTestId('evenness').locator('tbody tr').first()).toContainText(first);
  }
  await expect(page.getByTestId('light-histogram').locator('svg')).toBeVisible();
});

test('a proposed arrangement changes nothing until accepted, and is undone in one step', async ({
  desktop,
}) => {
  // Once planted, lamps stay as they hang.
  const page = await openStage(desktop, undrawn('basil'), 'light');
  await page.getByTestId('fold-arrange').locator('summary').first().click();
  const table = page.getByTestId('evenness');
  const before = await table.innerText();
  const figures = page.getByTestId('arrange-figures');
  await page.getByTestId('arrange-own-dimming').check();
  await page.getByTestId('arrange').click();
  await shows(figures, 'Proposed');
  await expect(undo(page)).toBeDisabled();
  expect(await table.innerText()).toBe(before);
  // The plants reach 260 mm at harvest; 100 mm are kept between them and the lamps.
  const words = page.getByTestId('arrange-words');
  const height = Number(/ (\d+) mm above the shelf/.exec(await words.innerText())?.[1]);
  expect(height).toBeGreaterThanOrEqual(360);

  await page.getByRole('button', { name: 'Leave them as they are' }).click();
  await expect(figures).toHaveCount(0);
  await expect(undo(page)).toBeDisabled();
  expect(await table.innerText()).toBe(before);

  await page.getByTestId('arrange-own-dimming').uncheck();
  await page.getByTestId('arrange').click();
  await shows(figures, 'Proposed');
  await page.getByTestId('arrange-accept').click();
  await expect.poll(() => table.innerText()).not.toBe(before);
  await undo(page).click();
  await expect.poll(() => table.innerText()).toBe(before);
  await expect(undo(page)).toBeDisabled();
});

test('open and white sides stand side by side', async ({ desktopPage: page }) => {
  await openLight(page, 'sides');
  await page.getByTestId('compare-sides').click();
  const rows = page.getByTestId('sides-figures').locator('tbody tr');
  await expect(rows).toHaveCount(3);
  const mean = async (row: number) => Number(await rows.nth(row).locator('td').first().innerText());
  expect(await mean(0)).toBeLessThan(await mean(1));
  expect(await mean(1)).toBeLessThan(await mean(2));
  const first = page.getByTestId('evenness').locator('tbody tr').first();
  const tray = async () => Number(await first.locator('td').first().innerText());
  const open = await tray();
  await page.getByTestId('side-left').selectOption('white');
  await expect(page.getByTestId('sides-figures')).toHaveCount(0);
  await expect.poll(tray).toBeGreaterThan(open);
  await page.getByTestId('side-left').selectOption('open');
  await expect.poll(tray).toBe(open);
  await undo(page).click();
  await expect.poll(tray).toBeGreaterThan(open);
});

test('readings of other sides are left out until it is said that they still hold', async ({
  desktopPage: page,
}) => {
  await openLight(page, 'sides');
  const standing = page.getByTestId('light-standing');
  await page.getByTestId('compare-sides').click();
  await expect(page.getByTestId('sides-figures')).toContainText('with the scale of its readings');
  await page.getByTestId('side-left').selectOption('white');
  await expect(standing).toContainText('estimated elsewhere');
  await page.getByTestId('fold-readings').locator('summary').first().click();
  await expect(page.getByTestId('readings-outdated')).toContainText('9 readings');
  await page.getByTestId('keep-readings').click();
  await expect(page.getByTestId('readings-outdated')).toHaveCount(0);
  await expect(standing).toContainText('Calibrated by meter readings.');
  await undo(page).click();
  await expect(page.getByTestId('readings-outdated')).toBeVisible();
  await undo(page).click();
  await expect(page.getByTestId('readings-outdated')).toHaveCount(0);
  await expect(standing).toContainText('Calibrated by meter readings.');
});

test('the lamps’ electricity, what it costs, and where the photons go', async ({
  desktopPage: page,
}) => {
  await openLight(page, 'energy');
  const fold = page.getByTestId('fold-energy');
  // Twelve strips of 24 W for 16 h: 288 W, 4.608 kWh a day, 161.28 kWh in 35 days.
  await expect(fold).toContainText('288 W');
  await expect(fold).toContainText('4.61 kWh');
  await page.getByTestId('price').fill('0.25');
  await page.getByTestId('price').press('Enter');
  await expect(fold).toContainText('161 kWh · 40.32 €');
  const rows = page.getByTestId('energy').locator('tbody tr');
  await expect(rows).toHaveCount(3);
  for (const cell of [2, 3]) {
    const share = Number.parseFloat(await rows.first().locator('td').nth(cell).innerText());
    expect(share).toBeGreaterThan(0);
    expect(share).toBeLessThan(100);
  }
});

test('readings calibrate their shelf; an outlier is named and a broken table refused', async ({
  desktopPage: page,
}) => {
  await openUnread(page);
  await page.getByTestId('reading-unit').selectOption('lux');
  const fold = page.getByTestId('fold-readings');
  await expect(fold).toContainText('70 lux to the PPFD, 62 to 80: all readings share this ±13 %.');
  await page.getByTestId('lux-spectrum').selectOption('white-red');
  await expect(fold).toContainText('58 lux to the PPFD, 50 to 66');
  await page.getByTestId('reading-unit').selectOption('ppfd');
  await page.getByTestId('paste-readings').click();
  const text = page.getByTestId('readings-text');
  await text.fill('shelf,x,y,value\n1,200,150,205\n7,200,150,200');
  await expect(page.getByTestId('readings-problems')).toContainText('Line 3, shelf: found 7');
  await expect(page.getByTestId('take-readings')).toBeDisabled();
  const values = [205, 240, 199, 250, 290, 255, 225, 600, 226];
  const rows = values.map(
    (value, i) => `1,${200 + (i % 3) * 400},${150 + Math.floor(i / 3) * 150},${value}`,
  );
  await text.fill(['shelf,x,y,value', ...rows].join('\n'));
  await page.getByTestId('take-readings').click();
  await expect(page.getByTestId('calibration')).toContainText('Shelf 1 is calibrated by 8');
  await expect(page.getByTestId('calibration')).toContainText('left out is met within');
  const readings = page.getByTestId('fold-readings');
  await expect(readings).toContainText('The reading of 600 on shelf 1 at 600, 450 mm');
  await expect(page.getByTestId('light-standing')).toContainText('Calibrated');
  await expect(page.getByTestId('readings-figure').locator('svg').first()).toBeVisible();
  await undo(page).click();
  await expect(page.getByTestId('light-standing')).toContainText('Estimated');
});

test('a reading is placed by a click on the shelf, or by a pot’s code', async ({
  desktopPage: page,
}) => {
  await openUnread(page);
  await lookFromAbove(page);
  await page.getByTestId('place-reading').click();
  await clickAt(page, 600, 300);
  await expect(page.getByTestId('reading-value')).toBeFocused();
  await page.keyboard.type('260');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('readings').locator('tbody tr')).toHaveCount(1);
  await expect(page.getByTestId('readings')).toContainText('260');
  // A code that no pot has stays in its field, and a number with two readings is asked about.
  const pot = page.getByTestId('reading-pot');
  await pot.fill('9Z-A1');
  await pot.press('Enter');
  await expect(pot).toHaveValue('9Z-A1');
  await expect(page.getByText('No pot has the code 9Z-A1.')).toBeVisible();
  await page.getByTestId('reading-pot').fill('2a b3');
  await page.getByTestId('reading-pot').press('Enter');
  await page.getByTestId('reading-value').fill('1,205');
  await page.getByTestId('reading-value').press('Enter');
  await expect(page.getByText('“1,205” can be 1205 or 1.205.')).toBeVisible();
  await page.getByTestId('reading-value').fill('210,5');
  await page.getByTestId('reading-value').press('Enter');
  // One end of the target never moves the other.
  await page.getByTestId('fold-aim').locator('summary').first().click();
  const [from, to] = [page.getByTestId('target-lowest'), page.getByTestId('target-highest')];
  for (const [field, typed] of [
    [to, '600'],
    [from, '500'],
    [to, '100'],
  ] as const) {
    await field.fill(typed);
    await field.press('Enter');
  }
  await expect(page.getByText('The target begins at 500; lower “from” first.')).toBeVisible();
  await expect(from).toHaveValue('500');
  await to.fill('600');
  await to.press('Enter');
  await expect(from).toHaveValue('500');
  await expect(to).toHaveValue('600');
  const rows = page.locator('tr[data-reading]');
  await expect(rows).toHaveCount(2);

  // From row to row and into one by keys; what was mistyped is put right where it stands.
  await rows.first().focus();
  await page.keyboard.press('ArrowDown');
  await expect(rows.nth(1)).toBeFocused();
  await page.keyboard.press('Enter');
  const editor = page.getByTestId('reading-editor');
  await expect(editor.getByTestId('reading-edit-value')).toHaveValue('210.5');
  await editor.getByTestId('reading-edit-value').fill('201.5');
  await editor.getByTestId('reading-edit-value').press('Enter');
  await editor.getByTestId('reading-edit-date').fill('2026-03-02');
  await editor.getByTestId('reading-edit-date').press('Enter');
  await expect(rows.nth(1)).toContainText('2026-03-02');
  await expect(rows.nth(1)).toContainText('202');
  await rows.nth(1).press('Enter');
  await expect(editor).toHaveCount(0);
  await rows.nth(1).press('Delete');
  await expect(rows).toHaveCount(1);
  await expect(page.getByText('calibrated in part', { exact: false }).first()).toBeVisible();
});

test('while a lamp is dragged direct light alone is shown, and said so', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('basil'), 'light');
  await lookFromAbove(page);
  const shown = page.getByTestId('light-shown');
  await expect(shown).toContainText('Lines join equal PPFD');
  const lamp = await placeOf(page, 120, 225);
  await page.mouse.move(lamp.x, lamp.y);
  await page.mouse.down();
  await page.mouse.move(lamp.x, lamp.y - 20, { steps: 4 });
  await expect(shown).toContainText('Direct light alone');
  await expect(page.getByTestId('light-standing')).toContainText('direct light alone');
  await page.mouse.up();
  await expect(shown).toContainText('Lines join equal PPFD');
});

test('a rota evens out the light of the trial, and is kept over reopening', async ({ desktop }) => {
  let { page } = desktop;
  await openLight(page, 'rotation');
  await page.getByTestId('rota-make').click();
  const rows = page.getByTestId('rota-figures').locator('tbody tr');
  await expect(rows).toHaveCount(2);
  const evenness = async (row: number) =>
    Number(await rows.nth(row).locator('td').nth(2).innerText());
  expect(await evenness(1)).toBeGreaterThan(await evenness(0));
  // Two trays change places at one choice.
  const placeOf = (tray: string) => page.getByLabel(`Place of tray ${tray}, days 8 to 14`);
  const shown = (tray: string) =>
    placeOf(tray).evaluate((select: HTMLSelectElement) => select.selectedOptions[0]?.label);
  expect([await shown('1A'), await shown('1B')]).toEqual(['1B', '1C']);
  await placeOf('1A').selectOption({ label: '1C' });
  await expect.poll(() => shown('1B')).toBe('1B');
  await page.getByTestId('rota-on-pots').check();
  await expect(page.getByTestId('light-shown')).toContainText('mean of 35 days with the rota');

  const path = join(desktop.folder, 'moved.evenrack');
  await desktop.willAnswer(path);
  await page.getByRole('button', { name: 'Save as…' }).click();
  await expect(page.locator('.topbar-title')).toContainText('moved.evenrack');
  expect(await readFile(path, 'utf8')).toContain('"rota"');
  page = await desktop.killAndRestart();
  await page.locator('.start-recent-open', { hasText: 'moved.evenrack' }).click();
  await page.getByTestId('stage-light').click();
  await expect(page.getByTestId('fold-rotation')).toContainText('4 moves');
  await expect(page.getByTestId('rota-figures').locator('tbody tr')).toHaveCount(2);
  expect(
    await page
      .getByLabel('Place of tray 1A, days 8 to 14')
      .evaluate((select: HTMLSelectElement) => select.selectedOptions[0]?.label),
  ).toBe('1C');
  await page.getByTestId('rota-drop').click();
  await expect(page.getByTestId('fold-rotation')).toContainText('no rota');
  await undo(page).click();
  await expect(page.getByTestId('fold-rotation')).toContainText('4 moves');
});

test('readings, proposals and a rota pass the accessibility scan, light and dark', async ({
  desktopPage: page,
}) => {
  await openUnread(page);
  await page.getByTestId('reading-unit').selectOption('lux');
  const fold = page.getByTestId('fold-readings');
  await expect(fold).toContainText('70 lux to the PPFD, 62 to 80: all readings share this ±13 %.');
  await page.getByTestId('lux-spectrum').selectOption('white-red');
  await expect(fold).toContainText('58 lux to the PPFD, 50 to 66');
  await page.getByTestId('reading-unit').selectOption('ppfd');
  await page.getByTestId('paste-readings').click();
  await page.getByTestId('readings-text').fill('shelf,x,y,value\n1,200,150,205\n1,600,150,240');
  await page.getByTestId('take-readings').click();
  await page.locator('tr[data-reading]').first().click();
  await expect(page.getByTestId('reading-editor')).toBeVisible();
  for (const fold of ['aim', 'heights', 'arrange', 'sides', 'rotation', 'energy']) {
    await page.getByTestId(`fold-${fold}`).locator('summary').first().click();
  }
  await page.getByTestId('rota-make').click();
  await page.getByTestId('arrange').click();
  await shows(page.getByTestId('arrange-figures'));
  expect(await offences(page)).toEqual([]);
});
