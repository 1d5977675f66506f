import { execFileSync } from 'node:child_process';
import { access, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import type { Plan } from '../../shared-types/plan';
import { openStage } from './planHelpers';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import type { Desktop } from './support/desktop';
import { program } from './support/program';

const { example, smallBasil } = program;

/** Unfolds all that lies below the answers. */
const unfold = (page: Page) =>
  page
    .locator('aside details.fold-part')
    .evaluateAll((folds) => folds.forEach((fold) => fold.setAttribute('open', '')));

async function openFindings(desktop: Desktop, plan: Plan): Promise<Page> {
  const page = await openStage(desktop, plan, 'findings');
  await shows(page.getByTestId('findings-words'), 'Feed made a difference');
  return page;
}

const openSmall = (desktop: Desktop) => openFindings(desktop, smallBasil());

test('the findings say what differed, whether position did it, and lead from figure to pot', async ({
  desktop,
}) => {
  const page = await openFindings(desktop, example('basil'));
  await expect(page.getByTestId('answers')).toContainText(
    'Strong (2.2 mS/cm) grew the heaviest plants',
  );
  // A plant's dot rings its pot while it has the focus, and Enter selects it there.
  const dot = page.getByTestId('plants-figure').locator('a').first();
  await dot.focus();
  await expect(dot).toHaveClass('is-pointed');
  await expect(page.getByTestId('strip-hover')).toContainText(/^1A-.* · weak/);
  await page.keyboard.press('ArrowRight');
  await expect(dot).not.toHaveClass('is-pointed');
  await dot.press('Enter');
  await unfold(page);
  await shows(page.getByTestId('without-pots'), '1 selected pot');
  const beside = page.getByTestId('rack-canvas-beside');
  await expect(beside).toHaveAccessibleName(/: Light$/);
  for (const what of ['Growth', 'Treatment', 'Residuals']) {
    await page.getByTestId('rack-beside').selectOption(what);
    await expect(beside).toHaveAccessibleName(new RegExp(`: ${what}$`));
  }
  await page.getByTestId('rack-beside').selectOption('nothing');
  await expect(beside).toHaveCount(0);
  await shows(page.getByTestId('light-figure').locator('svg'));
  await shows(page.getByTestId('edge-figure').locator('svg'));
  await shows(page.getByTestId('position-matrix'));
  const matrix = page.getByTestId('position-matrix');
  await expect(matrix.getByRole('columnheader')).toHaveCount(8);
  await page.setViewportSize({ width: 1024, height: 700 });
  await expect(async () => {
    const hidden = await matrix.evaluate((node) => {
      const frame = node.closest('.table-frame');
      return frame ? frame.scrollWidth - frame.clientWidth : NaN;
    });
    expect(hidden).toBe(0);
  }).toPass();
  await page.setViewportSize({ width: 1440, height: 900 });
  await shows(page.getByTestId('edge-effect'), 'interval');
  const point = page.getByTestId('residual-figure').locator('a').first();
  const href = (await point.getAttribute('href')) ?? '';
  expect(href).toMatch(/^#pot:/);
  await point.focus();
  await page.keyboard.press('Enter');
  await shows(page.getByTestId('without-pots'), '1 selected pot');
  await page.getByTestId('without-pots').click();
  await shows(page.getByTestId('with-without'), 'with all pots');
  await shows(page.getByTestId('with-without'), 'without ');
});

test('the layout is drawn again at a button, and stands in the report and tables that are saved', async ({
  desktop,
}) => {
  const page = await openSmall(desktop);
  await unfold(page);
  await page.getByTestId('randomisation-test-start').click();
  await shows(page.getByTestId('randomisation-test-sentence'), 'of all 216 possible layouts');
  await page.getByTestId('randomisation-test').getByLabel('Term').selectOption('cultivar');
  await page.getByTestId('randomisation-test-start').click();
  await shows(page.getByTestId('randomisation-test-sentence'), 'of 9999 shuffled layouts');

  const report = join(desktop.folder, 'report.html');
  await desktop.willAnswer(report);
  await page.getByTestId('save-report').click();
  await expect.poll(() => readFile(report, 'utf8').catch(() => '')).toContain('</html>');
  const html = await readFile(report, 'utf8');
  expect(html).toContain('Feed made a difference');
  expect(html).toContain('of all 216 possible layouts');
  const pdf = join(desktop.folder, 'report.pdf');
  await desktop.willAnswer(pdf);
  await page.getByTestId('save-report-pdf').click();
  await expect
    .poll(() =>
      access(pdf).then(
        () => true,
        () => false,
      ),
    )
    .toBe(true);
  const told = (tool: string, ...options: string[]) =>
    execFileSync(tool, [...options, pdf], { encoding: 'utf8' });
  expect(told('pdfdetach', '-list')).toMatch(/5 embedded files[^]*data\.csv[^]*plan\.evenrack/);
  expect(told('pdfinfo')).toMatch(/^Tagged: +yes$/m);
  const picture = join(desktop.folder, 'plants.png');
  await desktop.willAnswer(picture);
  await page
    .getByTestId('plants-figure')
    .getByRole('button', { name: /^Save as PNG/ })
    .click();
  // The signature that every such file begins with (ISO/IEC 15948).
  await expect
    .poll(() =>
      readFile(picture).then(
        (bytes) => bytes.toString('latin1', 0, 8),
        () => '',
      ),
    )
    .toBe('\x89PNG\r\n\x1a\n');
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
  const page = await openSmall(desktop);
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
  await shows(found.getByTestId('findings-words'), 'Nitro made a difference');
  await shows(
    found.getByTestId('findings-words'),
    'A difference between levels of Variety is not shown',
  );
  await unfold(page);
  // Three varieties in six blocks: all 46,656 arrangements, tests/reference/expected/11-randomisation.json.
  await found.getByTestId('randomisation-test-start').click();
  await shows(found.getByTestId('randomisation-test-sentence'), 'of all 46656 possible layouts');
  const report = join(desktop.folder, 'oats report.html');
  await desktop.willAnswer(report);
  await found.getByTestId('save-report').click();
  await expect.poll(() => readFile(report, 'utf8').catch(() => '')).toContain('</html>');
  const html = await readFile(report, 'utf8');
  expect(html).toContain('of all 46656 possible layouts');
  expect(html).toContain('how it was drawn is not known here');
  await found.getByRole('button', { name: 'Back to the plan’s findings' }).click();
  await shows(page.getByTestId('findings-words'), 'Feed made a difference');
});

test('a control and a trend are planned and undone; the rule holds, and is released with a reason', async ({
  desktop,
}) => {
  const page = await openSmall(desktop);
  await unfold(page);
  await page.getByTestId('control-feed').selectOption({ label: 'weak (1.0 mS/cm)' });
  await shows(page.getByTestId('comparisons'), 'after Dunnett');
  const planned = page.getByTestId('comparisons').locator('details').first();
  await planned.locator('summary').click();
  await planned.getByRole('button', { name: /Add slope/ }).click();
  await shows(page.getByTestId('planned-comparisons'), 'slope');
  await shows(page.getByTestId('findings-words'), 'The comparison slope of feed is');
  await page.keyboard.press('Control+Z');
  await expect(page.getByTestId('planned-comparisons')).toHaveCount(0);

  const rule = page.getByTestId('rule');
  await shows(rule, 'locked on 2026-03-02, before any value was recorded');
  await shows(page.getByTestId('findings-words'), 'You locked this analysis on 2026-03-02');
  await rule.locator('summary').click();
  await rule.getByLabel(/Reason for unlocking/).fill('wrong scale');
  await page.getByTestId('release-rule').click();
  await shows(rule, 'not locked yet');
  await shows(page.getByTestId('findings-words'), 'not locked before the results');
  await page.getByTestId('fix-rule').click();
  await shows(rule, 'with 72 values recorded already');
  await shows(
    page.getByTestId('findings-words'),
    'when 72 values of the main result had been recorded',
  );
});

test('a count is analysed on the scale that is chosen for it', async ({ desktop }) => {
  const page = await openSmall(desktop);
  await unfold(page);
  await page
    .getByLabel('Measurement', { exact: true })
    .selectOption({ label: 'Leaves at harvest' });
  await shows(page.getByTestId('findings-words'), 'Leaves was analysed for');
  await page.getByTestId('scale').selectOption({ label: 'square roots' });
  await shows(page.getByTestId('findings-words'), 'analysed as square roots');
  await page.getByTestId('scale').selectOption({ label: 'counts (Poisson)' });
  await shows(page.getByTestId('findings-words'), 'Counts were averaged per tray');
});
