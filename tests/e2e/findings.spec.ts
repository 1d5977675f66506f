import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { expect, test } from './support/fixtures';
import type { Desktop } from './support/desktop';

// Findings take seconds, and more on a busy machine.
const soon = expect.configure({ timeout: 40_000 });
test.setTimeout(150_000);

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
  await soon(page.getByTestId('findings-words')).toContainText('Feed made a difference');
  return page;
}

test('the findings say what differed, whether position did it, and lead from figure to pot', async ({
  desktop,
}) => {
  const page = await openDemo(desktop);
  await soon(page.getByTestId('position-figure').locator('svg')).toBeVisible();
  await soon(page.getByTestId('position-matrix').getByRole('columnheader')).toHaveCount(8);
  await soon(page.getByTestId('edge-effect')).toContainText('interval');
  const point = page.getByTestId('residual-figure').locator('a').first();
  const href = (await point.getAttribute('href')) ?? '';
  expect(href).toMatch(/^#pot:/);
  await point.focus();
  await page.keyboard.press('Enter');
  await soon(page.getByTestId('without-pots')).toContainText('1 selected pot');
  await page.getByTestId('without-pots').click();
  await soon(page.getByTestId('with-without')).toContainText('with all pots');
  await soon(page.getByTestId('with-without')).toContainText('without ');
});

test('a control and a trend are planned, kept in the plan and undone', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page.getByTestId('control-feed').selectOption({ label: 'weak (1.0 mS/cm)' });
  await soon(page.getByTestId('comparisons')).toContainText('after Dunnett');
  const planned = page.getByTestId('comparisons').locator('details').first();
  await planned.locator('summary').click();
  await planned.getByRole('button', { name: /Add slope/ }).click();
  await soon(page.getByTestId('planned-comparisons')).toContainText('slope');
  await soon(page.getByTestId('findings-words')).toContainText('The comparison slope of feed is');
  await page.keyboard.press('Control+Z');
  await soon(page.getByTestId('planned-comparisons')).toHaveCount(0);
});

test('the layout is drawn again at a button, with a sentence for a result', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page.getByTestId('randomisation-test-start').click();
  await soon(page.getByTestId('randomisation-test-sentence')).toContainText(
    'of all 216 possible layouts',
  );
  await page.getByTestId('randomisation-test').getByLabel('Term').selectOption('cultivar');
  await page.getByTestId('randomisation-test-start').click();
  await soon(page.getByTestId('randomisation-test-sentence')).toContainText(
    'of 9999 shuffled layouts',
  );
});

test('report and tables are saved as files', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page.getByTestId('randomisation-test-start').click();
  await soon(page.getByTestId('randomisation-test-sentence')).toBeVisible();
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
  await dialog.getByLabel(/“Block”/).selectOption('shelf block');
  await dialog.getByLabel(/“plot”/).selectOption('tray');
  await dialog.getByLabel(/“Variety”/).selectOption('factor tray');
  await dialog.getByLabel(/“nitro”/).selectOption('factor pot');
  await dialog.getByLabel(/“yield”/).selectOption('response');
  await page.getByTestId('table-analyse').click();
  const found = page.getByTestId('findings-of-table');
  await soon(found.getByTestId('findings-words')).toContainText('Nitro made a difference');
  await soon(found.getByTestId('findings-words')).toContainText(
    'A difference between levels of Variety is not shown',
  );
  // Three varieties in six blocks: all 46,656 arrangements, tests/reference/expected/11-randomisation.json.
  await found.getByTestId('randomisation-test-start').click();
  await soon(found.getByTestId('randomisation-test-sentence')).toContainText(
    'of all 46656 possible layouts',
  );
  const report = join(desktop.folder, 'oats report.html');
  await desktop.willAnswer(report);
  await found.getByTestId('save-report').click();
  await expect.poll(() => readFile(report, 'utf8').catch(() => '')).toContain('</html>');
  const html = await readFile(report, 'utf8');
  expect(html).toContain('of all 46656 possible layouts');
  expect(html).toContain('how it was drawn is not known here');
  await found.getByRole('button', { name: 'Back to the plan’s findings' }).click();
  await soon(page.getByTestId('findings-words')).toContainText('Feed made a difference');
});

test('the rule of the analysis is fixed, holds, and is released with a reason', async ({
  desktop,
}) => {
  const page = await openDemo(desktop);
  const rule = page.getByTestId('rule');
  await soon(rule).toContainText('fixed on 2026-03-02, before any value was recorded');
  await soon(page.getByTestId('findings-words')).toContainText('By the rule fixed on 2026-03-02');
  await rule.locator('summary').click();
  await rule.getByLabel(/Reason for releasing/).fill('wrong scale');
  await page.getByTestId('release-rule').click();
  await soon(rule).toContainText('not fixed yet');
  await soon(page.getByTestId('findings-words')).toContainText('with the answer in view');
  await page.getByTestId('fix-rule').click();
  await soon(rule).toContainText('with 211 values recorded already');
  await soon(page.getByTestId('findings-words')).toContainText(
    'when 211 values of what answers had been recorded already',
  );
});

test('a count is analysed on the scale that is chosen for it', async ({ desktop }) => {
  const page = await openDemo(desktop);
  await page
    .getByLabel('Measurement', { exact: true })
    .selectOption({ label: 'Leaves at harvest' });
  await soon(page.getByTestId('findings-words')).toContainText('Leaves was analysed for');
  await page.getByTestId('scale').selectOption({ label: 'square roots' });
  await soon(page.getByTestId('findings-words')).toContainText('analysed as square roots');
  await page.getByTestId('scale').selectOption({ label: 'counts (Poisson)' });
  await soon(page.getByTestId('findings-words')).toContainText('Counts were averaged per tray');
  await page.keyboard.press('Control+Z');
  await soon(page.getByTestId('findings-words')).toContainText('analysed as square roots');
});
