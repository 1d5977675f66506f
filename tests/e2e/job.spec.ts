import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import type { Desktop } from './support/desktop';
import { clickAt, dragOn, lookFromAbove, rackCanvas, startEmpty } from './rackHelpers';

// The whole job, once by mouse and once by keyboard alone: draw a rack parted by boards, see its light,
// plan, draw a layout, print, record, read the findings.

/** Fills in the exported table: plants in coir come out 4 g heavier than those in peat. */
async function harvest(desktop: Desktop, exported: string): Promise<string> {
  const lines = (await readFile(exported, 'utf8')).trim().split(/\r?\n/);
  const names = (lines[0] ?? '').replace(/^\uFEFF/, '').split(',');
  const column = (name: string) => {
    const index = names.findIndex((n) => n.toLowerCase().startsWith(name));
    if (index < 0) throw new Error(`the export has no column ${name}: ${names.join(',')}`);
    return index;
  };
  const [pot, medium] = [column('pot'), column('medium')];
  const rows = lines.slice(1).map((line, i) => {
    const cells = line.split(',');
    const start = 5 + (i % 3) * 0.4;
    const weight = 20 + (cells[medium] === 'coir' ? 4 : 0) + ((i * 7) % 5) * 0.5 + start;
    return `${cells[pot] ?? ''},${start.toFixed(1)},${weight.toFixed(1)}`;
  });
  const path = join(desktop.folder, 'harvest.csv');
  const head = 'pot,fresh weight at start,fresh weight at harvest';
  await writeFile(path, `${[head, ...rows].join('\n')}\n`);
  return path;
}

/** Counts what a hand does: presses of the mouse, and of keys other than letters typed into a word. */
async function counted(page: Page): Promise<() => Promise<{ clicks: number; keys: number }>> {
  const count = await page.evaluateHandle(() => {
    const counts = { clicks: 0, keys: 0 };
    window.addEventListener('pointerdown', () => counts.clicks++, true);
    window.addEventListener('keydown', () => counts.keys++, true);
    return counts;
  });
  return () => count.jsonValue();
}

const ANSWERS: readonly [field: string, typed: string][] = [
  ['[data-testid="quick-shelves"]', '4'],
  ['[data-testid="quick-pots"]', '9x9'],
  ['[data-testid="quick-pot"]', '60 mm'],
  ['[data-testid="quick-sentence"]', 'two lights, three media, two kinds of plant'],
  ['.quick-factor:nth-child(1) .field:nth-of-type(2) input', 'bright, dim 60 %'],
  ['.quick-factor:nth-child(2) .field:nth-of-type(2) input', 'peat, coir, bark'],
  ['.quick-factor:nth-child(3) .field:nth-of-type(2) input', 'basil, chard'],
];

async function chartsSaved(desktop: Desktop, save: () => Promise<void>): Promise<string> {
  const path = join(desktop.folder, 'charts.html');
  await desktop.willAnswer(path);
  await save();
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('Planting chart');
  return readFile(path, 'utf8');
}

test('from nothing to the printed charts of 324 pots on one page, by mouse', async ({
  desktop,
}) => {
  const { page } = desktop;
  const hand = await counted(page);
  await page.getByTestId('quick-start').click();
  for (const [field, typed] of ANSWERS) {
    await page.locator(field).click();
    await page.keyboard.type(typed);
    // What the sentence names has lines of its own once it is read.
    if (field.includes('sentence')) await page.keyboard.press('Enter');
  }
  await page.getByTestId('quick-ask').click();
  await expect(page.getByTestId('quick-figures')).toHaveCount(0);
  await expect(page.getByTestId('quick-verdict')).toContainText('Bright or dim 60 % light?');
  await expect(page.getByTestId('quick-verdict')).toContainText('weak: 2 against 2');
  await page.getByRole('button', { name: 'Do this: A white board across each shelf' }).click();
  await expect(page.getByTestId('quick-verdict')).toContainText('4 against 4');
  await page.getByTestId('quick-draw').click();
  await expect(page.getByTestId('balance')).toContainText('chard');
  const drawn = await hand();
  await page.getByTestId('stage-chart').click();
  const charts = await chartsSaved(desktop, () =>
    page.getByRole('button', { name: 'Save HTML' }).click(),
  );
  expect(new Set(charts.match(/\b[1-4]A-[A-Z]\d+\b/g)).size).toBe(324);
  const printed = await hand();
  console.info(`by mouse: drawn ${JSON.stringify(drawn)}, printed ${JSON.stringify(printed)}`);
  expect(drawn.clicks).toBeLessThanOrEqual(12);
  expect(printed.clicks).toBeLessThanOrEqual(14);
  expect(printed.keys).toBeLessThanOrEqual(110);
});

test('from nothing to the printed charts of 324 pots on one page, by keyboard alone', async ({
  desktop,
}) => {
  const { page } = desktop;
  const hand = await counted(page);
  await tabTo(page, '[data-testid="quick-start"]');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('group', { name: 'Answers that make a plan' })).toBeFocused();
  for (const [field, typed] of ANSWERS) {
    await tabTo(page, field);
    await page.keyboard.type(typed);
    if (field.includes('sentence')) await page.keyboard.press('Enter');
  }
  await tabTo(page, '[data-testid="quick-ask"]');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('quick-verdict')).toBeFocused();
  await tabTo(page, '[data-testid="quick-draw"]');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('balance')).toContainText('chard');
  await expect(page.getByTestId('stage-layout')).toBeFocused();
  await page.keyboard.press('Alt+6');
  await chartsSaved(desktop, async () => {
    await tabTo(page, 'button:has-text("Save HTML")');
    await page.keyboard.press('Enter');
  });
  const printed = await hand();
  console.info(`by keyboard: ${JSON.stringify(printed)}`);
  expect(printed.clicks).toBe(0);
  expect(printed.keys).toBeLessThanOrEqual(220);
});

test('the whole job by mouse', async ({ desktop }) => {
  test.setTimeout(120_000);
  const { page, folder } = desktop;

  await test.step('rack', async () => {
    await startEmpty(page);
    await page.getByTestId('add-first-shelf').click();
    await lookFromAbove(page);
    await page.getByTestId('tool-tray').click();
    await clickAt(page, 600, 300);
    await page.getByTestId('tool-pots').click();
    await clickAt(page, 600, 300);
    await page.getByTestId('tool-lamp').click();
    await clickAt(page, 600, 150);
    await page.getByTestId('tool-lamp').click();
    await clickAt(page, 600, 450);
    // A board along the middle makes two bays of each shelf.
    await page.getByTestId('tool-board').click();
    await dragOn(page, { from: [200, 300], to: [900, 310] });
    await expect(page.getByTestId('inspected-name')).toHaveText('Board 1 on shelf 1');
    await expect(page.getByTestId('lamps-in-the-way')).toHaveCount(0);
    await clickAt(page, 1195, 5);
    await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
    for (const shelf of ['Shelf 2', 'Shelf 3']) {
      await page.getByRole('button', { name: 'Duplicate' }).click();
      await expect(page.getByTestId('inspected-name')).toHaveText(shelf);
    }
  });

  await test.step('light', async () => {
    await page.getByTestId('stage-light').click();
    await expect(page.getByTestId('evenness')).toContainText('Tray 1A');
  });

  await test.step('trial', async () => {
    await page.getByTestId('stage-trial').click();
    await page.getByRole('button', { name: 'Start a trial' }).click();
    await page.getByRole('button', { name: 'Add factor' }).click();
    await page.getByLabel('Factor', { exact: true }).fill('medium');
    await page.getByLabel('Level 1', { exact: true }).fill('peat');
    await page.getByLabel('Level 2', { exact: true }).fill('coir');
    await page.getByLabel('Level 2', { exact: true }).press('Enter');
    await page.getByRole('button', { name: 'Add factor' }).click();
    const light = page.getByRole('group', { name: 'Factor factor 2' });
    await light.getByLabel('Applied through').selectOption({ label: 'lamps and timer' });
    await light.getByLabel('Own treatment for each').selectOption({ label: 'bay' });
    await light.getByLabel('Factor', { exact: true }).fill('light');
    await light.getByLabel('Factor', { exact: true }).press('Enter');
    await page.getByTestId('scheme').selectOption({ label: 'split plot' });
    await page.getByTestId('blocks-by').selectOption({ label: 'each shelf' });
    await expect(page.getByTestId('skeleton')).toContainText('bays');
  });

  await test.step('layout', async () => {
    await page.getByTestId('stage-layout').click();
    await page.getByTestId('seed').fill('first try');
    await page.getByTestId('draw').click();
    await expect(page.getByTestId('balance')).toContainText('peat');
    await page.getByTestId('verify').click();
    await expect(page.getByText('identical, pot by pot')).toBeVisible();
    await page.getByTestId('planted').click();
  });

  await test.step('charts', async () => {
    await page.getByTestId('stage-chart').click();
    const preview = page.frameLocator('[data-testid="chart-preview"]');
    await expect(preview.getByText('Planting chart', { exact: false }).first()).toBeVisible();
    await expect(preview.getByText('bay 1 front').first()).toBeAttached();
  });

  await test.step('records', async () => {
    await page.getByTestId('stage-records').click();
    await page.locator('[data-cell="0:0"]').click();
    await page.keyboard.type('5.1');
    await page.keyboard.press('Enter');
    await expect(page.locator('[data-cell="1:0"]')).toBeFocused();
    const exported = join(folder, 'records.csv');
    await desktop.willAnswer(exported);
    await page.getByRole('button', { name: 'Import, export' }).click();
    await page.getByTestId('export').click();
    await expect.poll(() => readFile(exported, 'utf8').catch(() => '')).toContain('medium');
    await desktop.willAnswer(await harvest(desktop, exported));
    await page.getByTestId('import').click();
    await expect(page.getByTestId('import-dialog')).toBeVisible();
    await page.getByTestId('import-take').click();
    await expect(page.getByTestId('import-dialog')).toBeHidden();
  });

  await test.step('findings', async () => {
    await page.getByTestId('stage-findings').click();
    await shows(page.getByTestId('findings-words'), 'Medium made a difference');
    await expect(page.getByTestId('findings-words')).toContainText(
      'judged by the variation among pots',
    );
  });
});

/** Tab until the thing has the focus; fails after a fair number of steps. */
async function tabTo(page: Page, selector: string, most = 120) {
  for (let i = 0; i < most; i++) {
    if (
      await page
        .locator(selector)
        .first()
        .evaluate((e) => e === document.activeElement)
    )
      return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`${selector} is not reached by the Tab key`);
}

test('the whole job by keyboard alone', async ({ desktop }) => {
  test.setTimeout(180_000);
  const { page, folder } = desktop;

  await test.step('rack', async () => {
    await tabTo(page, 'button:has-text("Empty rack")');
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="add-first-shelf"]');
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
    // With nothing selected the inspector says what the rack still lacks, and offers it.
    for (const next of ['Add a tray', 'Fill with pots', 'Hang a lamp']) {
      await rackCanvas(page).focus();
      await page.keyboard.press('Escape');
      await expect(page.getByRole('button', { name: next })).toBeVisible();
      await page.keyboard.press('Enter');
      await tabTo(page, `button:has-text("${next}")`);
      await page.keyboard.press('Enter');
    }
  });

  await test.step('a board', async () => {
    await rackCanvas(page).focus();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Tab');
    await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
    // Enter leads from the rack to the figures of what is selected.
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="add-board-across"]');
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('inspected-name')).toHaveText('Board 1 on shelf 1');
    await rackCanvas(page).focus();
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="part-lamps"]');
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('lamps-in-the-way')).toHaveCount(0);
  });

  await test.step('light', async () => {
    await page.keyboard.press('Alt+2');
    await expect(page.getByTestId('evenness')).toContainText('Tray 1A');
  });

  await test.step('trial', async () => {
    await page.getByTestId('stage-trial').focus();
    await page.keyboard.press('Enter');
    await tabTo(page, 'button:has-text("Start a trial")');
    await page.keyboard.press('Enter');
    await tabTo(page, 'button:has-text("Add factor")');
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="factors"] input');
    await page.keyboard.type('medium');
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="blocks-by"]');
    await page.keyboard.type('each bay');
    await expect(page.getByTestId('skeleton')).toContainText('medium');
  });

  await test.step('layout', async () => {
    await page.getByTestId('stage-layout').focus();
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="seed"]');
    await page.keyboard.type('keys only');
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-testid="draw"]');
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('balance')).toContainText('level 1');
  });

  await test.step('charts', async () => {
    await page.getByTestId('stage-chart').focus();
    await page.keyboard.press('Enter');
    const path = join(folder, 'charts.html');
    await desktop.willAnswer(path);
    await tabTo(page, 'button:has-text("Save HTML")');
    await page.keyboard.press('Enter');
    await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('Planting chart');
  });

  await test.step('records', async () => {
    await page.getByTestId('stage-records').focus();
    await page.keyboard.press('Enter');
    await tabTo(page, '[data-cell="0:0"]');
    const rows = await page.locator('[data-cell$=":0"]').count();
    expect(rows).toBeGreaterThan(5);
    const pots = Number(
      /of (\d+)/.exec(await page.getByTestId('records-grid').locator('xpath=..').innerText())?.[1],
    );
    expect(pots).toBeGreaterThan(5);
    for (let column = 0; column < 2; column++) {
      for (let i = 0; i < pots; i++) {
        await page.keyboard.type(String(column * 20 + 5 + ((i * 7) % 11) / 10));
        await page.keyboard.press('Enter');
      }
    }
  });

  await test.step('findings', async () => {
    await page.getByTestId('stage-findings').focus();
    await page.keyboard.press('Enter');
    await shows(page.getByTestId('findings-words'), /medium/i);
  });
});
