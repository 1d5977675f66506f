import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { expect, test } from './support/fixtures';
import type { Desktop } from './support/desktop';

async function openDemo(desktop: Desktop): Promise<Page> {
  const text = await readFile(
    new URL('../../renderer/app/examples/basil.json', import.meta.url),
    'utf8',
  );
  const path = join(desktop.folder, 'basil.evenrack');
  await writeFile(path, text);
  await desktop.willAnswer(path);
  const { page } = desktop;
  await page.keyboard.press('Control+O');
  await page.getByTestId('stage-findings').click();
  await expect(page.getByTestId('findings-words')).toContainText('Feed made a difference');
  return page;
}

test('the findings say what differed, whether position did it, and lead from figure to pot', async ({
  desktop,
}) => {
  const page = await openDemo(desktop);
  await expect(page.getByTestId('position-figure').locator('svg')).toBeVisible();
  await expect(page.getByTestId('position-models').getByRole('row')).toHaveCount(8);
  await expect(page.getByTestId('edge-effect')).toContainText('interval');
  const point = page.getByTestId('residual-figure').locator('a').first();
  const href = (await point.getAttribute('href')) ?? '';
  expect(href).toMatch(/^#pot:/);
  await point.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('without-pots')).toContainText('1 selected pot');
  await page.getByTestId('without-pots').click();
  await expect(page.getByTestId('with-without')).toContainText('with all pots');
  await expect(page.getByTestId('with-without')).toContainText('without ');
});

test('a control and a trend are planned, kept in the plan and undone', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page.getByTestId('control-feed').selectOption({ label: 'weak (1.0 mS/cm)' });
  await expect(page.getByTestId('comparisons')).toContainText('after Dunnett');
  const planned = page.getByTestId('comparisons').locator('details').first();
  await planned.locator('summary').click();
  await planned.getByRole('button', { name: /Add slope/ }).click();
  await expect(page.getByTestId('planned-comparisons')).toContainText('slope');
  await expect(page.getByTestId('findings-words')).toContainText('planned comparison slope');
  await page.keyboard.press('Control+Z');
  await expect(page.getByTestId('planned-comparisons')).toHaveCount(0);
});

test('the layout is drawn again at a button, with a sentence for a result', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page.getByTestId('redraw-start').click();
  await expect(page.getByTestId('redraw-sentence')).toContainText('of all 216 possible layouts');
  await page.getByTestId('redraw').getByLabel('Term').selectOption('cultivar');
  await page.getByTestId('redraw-start').click();
  await expect(page.getByTestId('redraw-sentence')).toContainText('of 9999 redrawn layouts');
});

test('report and tables are saved as files', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page.getByTestId('redraw-start').click();
  await expect(page.getByTestId('redraw-sentence')).toBeVisible();
  const report = join(desktop.folder, 'report.html');
  await desktop.willAnswer(report);
  await page.getByTestId('save-report').click();
  await expect.poll(() => readFile(report, 'utf8').catch(() => '')).toContain('</html>');
  const html = await readFile(report, 'utf8');
  expect(html).toContain('Feed made a difference');
  expect(html).toContain('of all 216 possible layouts');
  const tables = join(desktop.folder, 'tables.csv');
  await desktop.willAnswer(tables);
  await page.getByTestId('save-tables').click();
  await expect
    .poll(() => readFile(tables, 'utf8').catch(() => ''))
    .toContain('Adjusted means by feed');
});

test('a trial that was not planned here gets the same findings from its table', async ({
  desktop,
}) => {
  const oats = await readFile(new URL('../reference/data/oats.csv', import.meta.url), 'utf8');
  const path = join(desktop.folder, 'oats.csv');
  const [head = '', ...lines] = oats.trim().split(/\r?\n/);
  const table = [`${head},plot`, ...lines.map((l) => `${l},${l.split(',')[1] ?? ''} plot`)];
  await writeFile(path, table.join('\n'));
  const page = await openDemo(desktop);
  await desktop.willAnswer(path);
  await page.getByTestId('open-table').click();
  const dialog = page.getByTestId('table-dialog');
  await dialog.getByLabel(/“Block”/).selectOption('shelf');
  await dialog.getByLabel(/“plot”/).selectOption('tray');
  await dialog.getByLabel(/“Variety”/).selectOption('factor tray');
  await dialog.getByLabel(/“nitro”/).selectOption('factor pot');
  await dialog.getByLabel(/“yield”/).selectOption('response');
  await page.getByTestId('table-analyse').click();
  const found = page.getByTestId('findings-of-table');
  await expect(found.getByTestId('findings-words')).toContainText('Nitro made a difference');
  await expect(found.getByTestId('findings-words')).toContainText(
    'A difference between levels of Variety is not shown',
  );
  await found.getByRole('button', { name: 'Back to the plan’s findings' }).click();
  await expect(page.getByTestId('findings-words')).toContainText('Feed made a difference');
});
