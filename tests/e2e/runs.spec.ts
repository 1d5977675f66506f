import type { Page } from '@playwright/test';
import { openStage, saved, sendKeys, tabTo } from './planHelpers';
import { expect, test } from './support/fixtures';
import { program } from './support/program';

const { undrawn } = program;

const shown = (page: Page) => page.getByTestId('run-picker').locator('option:checked');
const cell = (page: Page, pot: string) =>
  page.getByLabel(`Fresh weight at harvest of ${pot}`, { exact: true });

test('a trial is swapped and repeated: drawn, charted, planted and recorded run by run, by keyboard', async ({
  desktop,
}) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'trial');
  await expect(page.getByTestId('run-picker')).toHaveCount(0);
  const way = page.getByRole('button', { name: /Do this: Grow it \d+ times, .* swapped/ });
  await way.focus();
  await page.keyboard.press('Enter');
  await expect(shown(page)).toHaveText('Run 1, planned');
  await expect(page.getByRole('textbox', { name: 'Harvest of run 1' })).toBeVisible();

  await page.keyboard.press('Alt+5');
  await expect(page.getByTestId('drawn-with')).toContainText('run 2');
  await tabTo(page, 'draw');
  await page.keyboard.press('Enter');
  await expect(shown(page)).toContainText('Run 1, drawn');
  await page.keyboard.press('Alt+PageDown');
  await expect(shown(page)).toHaveText('Run 2, drawn');
  await expect(page.getByTestId('drawn-with')).toContainText('run 1');
  await page.getByTestId('planted').press('Enter');
  await expect(page.getByRole('alert')).toContainText('Run 1 is not planted yet');

  await page.keyboard.press('Alt+6');
  const preview = page.frameLocator('[data-testid=chart-preview]');
  await expect(preview.getByText(/Run 2, seed/).first()).toBeVisible();

  // One after the other: planted, and weighed.
  for (const [key, date] of [
    ['Alt+PageUp', '2026-04-20'],
    ['Alt+PageDown', '2026-06-01'],
  ] as const) {
    await page.keyboard.press('Alt+5');
    await page.keyboard.press(key);
    await page.getByTestId('planted-on').fill(date);
    await page.getByTestId('planted').press('Enter');
    await expect(page.getByText(`Planted on ${date}`)).toBeVisible();
  }
  await expect(shown(page)).toHaveText('Run 2, planted');

  await page.keyboard.press('Alt+7');
  await cell(page, '1A-A1').fill('24.5');
  await cell(page, '1A-A1').press('Enter');
  // A label of the other run says whose it is, and enters nothing.
  await sendKeys(page, [...'R1-1A-A2', 'Enter'], true);
  const held = page.getByTestId('held');
  await expect(held).toContainText('This label is of run 1, pot 1A-A2; run 2 is shown.');
  await expect(cell(page, '1A-A2')).toHaveValue('');
  await tabTo(page, 'said-offer');
  await page.keyboard.press('Enter');
  await expect(shown(page)).toContainText('Run 1');
  await expect(cell(page, '1A-A2')).toBeFocused();
  await expect(cell(page, '1A-A1')).toHaveValue('');
  await page.keyboard.type('21.5');
  // What is typed and not entered yet stays in its run.
  await page.keyboard.press('Alt+PageDown');
  await expect(cell(page, '1A-A1')).toHaveValue('24.50');
  await expect(cell(page, '1A-A2')).toHaveValue('');
  // Undo takes back the last thing done, and shows the run in which it was.
  await page.getByTestId('undo').press('Enter');
  await expect(shown(page)).toContainText('Run 1');
  await page.getByTestId('redo').press('Enter');
  await expect(cell(page, '1A-A2')).toHaveValue('21.50');

  await tabTo(page, 'open-runs');
  await page.keyboard.press('Enter');
  const dialog = page.getByTestId('runs-dialog');
  await dialog.getByTestId('remove-run').press('Enter');
  await expect(dialog.getByRole('alert')).toContainText('Run 1 is planted since 2026-04-20');
  await page.keyboard.press('Escape');
  await expect(dialog).toHaveCount(0);

  // Looking at another run is no change of the plan.
  const plan = await saved(desktop);
  await expect(page.getByRole('banner')).not.toContainText('unsaved');
  await page.getByTestId('run-picker').selectOption({ index: 1 });
  await expect(page.getByRole('banner')).not.toContainText('unsaved');
  const recorded = plan.earlierRuns?.map(({ records }) => records.values) ?? [];
  expect(recorded.slice(0, 2)).toEqual([
    { m60: { 't11:1:2': 21.5 } },
    { m60: { 't11:1:1': 24.5 } },
  ]);
});
