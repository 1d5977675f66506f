import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import type { Paper, PrintOptions } from '../../renderer/print';
import type { Plan } from '../../shared-types/plan';
import type { GreySquare } from '../print/support/decoders';
import { placeOf } from './rackHelpers';
import { expect, test as base } from './support/fixtures';
import { program } from './support/program';

/** `page` is one blank page for all tests: a new one costs more than printing on it. */
const test = base.extend<object, { sheet: Page }>({
  sheet: [
    async ({ browser }, use) => {
      const page = await browser.newPage();
      await use(page);
      await page.context().close();
    },
    { scope: 'worker' },
  ],
  page: async ({ sheet }, use) => {
    await use(sheet);
    await sheet.emulateMedia({ media: null });
  },
});

const {
  awkwardPlans,
  defaultOptions,
  labelPresets,
  printables,
  printed,
  readMatrix,
  readQr,
  trialPots,
} = program;
const plans = awkwardPlans();
function planOf(name: string): Plan {
  const plan = plans[name];
  if (!plan) throw new Error(`no plan is called ${name}`);
  return plan;
}

/** ISO 216 and ANSI/ASME Y14.1, mm. */
const sizes: Record<Paper, readonly [number, number]> = {
  A4: [210, 297],
  Letter: [215.9, 279.4],
};

interface Raster {
  width: number;
  height: number;
  grey: Uint8Array;
}

/** The printed pages as a printer gets them, in grey. */
async function rasters(page: Page, html: string, folder: string, dpi: number): Promise<Raster[]> {
  await page.setContent(html);
  const file = join(folder, 'print.pdf');
  await writeFile(file, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  const out = execFileSync('pdftoppm', ['-gray', '-r', String(dpi), file], {
    maxBuffer: 1 << 30,
    encoding: 'buffer',
  });
  const pages: Raster[] = [];
  for (let at = 0; at < out.length;) {
    // Binary portable greymap: `P5 width height 255` and one byte a pixel.
    const [head, w, h] =
      /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(out.toString('latin1', at, at + 40)) ?? [];
    if (!head) throw new Error('pdftoppm gave no greymap');
    const [width, height] = [Number(w), Number(h)];
    const from = at + head.length;
    pages.push({ width, height, grey: out.subarray(from, from + width * height) });
    at = from + width * height;
  }
  return pages;
}

/** Pixels that are not white within so many millimetres of the paper's edge. */
function inkAtEdge({ width, height, grey }: Raster, mm: number, dpi: number): number {
  const margin = Math.floor((mm / 25.4) * dpi);
  let ink = 0;
  for (let y = 0; y < height; y++) {
    const whole = y < margin || y >= height - margin;
    for (let x = 0; x < width; x++) {
      if (!whole && x >= margin && x < width - margin) continue;
      if ((grey[y * width + x] ?? 255) < 250) ink++;
    }
  }
  return ink;
}

const dpi = 72;

/** The plan with a log of the whole rack that is longer than a line. */
function logged(plan: Plan): Plan {
  const text = 'The pump failed over night, and the trays stood dry until noon. '.repeat(4);
  const incidents = [{ id: 'i1', date: '2026-03-19', text, about: [] }];
  return { ...plan, records: { ...plan.records, incidents } };
}

// Papers differ in size alone: each plan is laid out on one of them.
const onPaper = Object.keys(plans)
  .filter((plan) => plan !== 'dense')
  .map((name, i) => ({ name, paper: i % 2 === 0 ? 'A4' : 'Letter' }) as const);
for (const { name, paper } of onPaper) {
  test(`pages of the plan “${name}” on ${paper}: size, white margin, nothing cut, type that can be read`, async ({
    page,
    folder,
  }) => {
    test.setTimeout(120_000);
    const plan = logged(planOf(name));
    const options: PrintOptions = {
      ...defaultOptions(paper),
      log: true,
      blinded: name === 'thirty',
      behind: name === 'staggered',
      previous: true,
    };
    for (const { name: what } of printables(plan, options)) {
      // Many sheets alike: one plan shows them.
      if (what === 'true-size' && name !== 'staggered') continue;
      const made = printed(plan, what, options);
      if (!made) throw new Error(`${what}: nothing was printed`);
      const pages = await rasters(page, made.html, folder, dpi);
      expect(pages, what).toHaveLength(made.pages);
      for (const [i, raster] of pages.entries()) {
        const mm = [raster.width, raster.height]
          .map((px) => (px / dpi) * 25.4)
          .sort((a, b) => a - b);
        // A pixel is 0.35 mm.
        expect(Math.abs((mm[0] ?? 0) - sizes[paper][0]), `${what} ${i + 1}`).toBeLessThan(0.4);
        expect(Math.abs((mm[1] ?? 0) - sizes[paper][1]), `${what} ${i + 1}`).toBeLessThan(0.4);
        expect(inkAtEdge(raster, 5, dpi), `${what}, page ${i + 1}: ink in the margin`).toBe(0);
      }
      expect(await troubles(page), what).toEqual([]);
    }
  });
}

/**
 * What on the pages runs over its page or another's room, and type below 6 pt, with codes, which
 * are bold, below 8 pt. Text sizes are those on paper.
 */
async function troubles(page: Page): Promise<string[]> {
  await page.emulateMedia({ media: 'print' });
  return page.evaluate(() => {
    const found: string[] = [];
    const pxPerMm = 96 / 25.4;
    for (const sheet of document.querySelectorAll('.page')) {
      const box = sheet.getBoundingClientRect();
      const foot = sheet.querySelector('.page-foot')?.getBoundingClientRect();
      const body = sheet.querySelector('.page-body')?.getBoundingClientRect();
      if (foot && body && body.bottom > foot.top) found.push('the body runs into the foot');
      for (const text of sheet.querySelectorAll('text, h1, .origin, .page-foot span')) {
        const words = text.textContent ?? '';
        const at = text.getBoundingClientRect();
        if (
          at.left < box.left + 4.9 * pxPerMm ||
          at.right > box.right - 4.9 * pxPerMm ||
          at.top < box.top + 4.5 * pxPerMm ||
          at.bottom > box.bottom - 4.5 * pxPerMm
        ) {
          found.push(`“${words}” runs into the margin`);
        }
        const scale = text instanceof SVGGraphicsElement ? text.getScreenCTM() : null;
        const size = parseFloat(getComputedStyle(text).fontSize);
        const pt = size * (scale ? Math.hypot(scale.a, scale.b) : 1) * 0.75;
        const least = Number(getComputedStyle(text).fontWeight) >= 600 ? 7.99 : 5.99;
        if (pt < least) found.push(`“${words}” is set in ${pt.toFixed(2)} pt`);
      }
    }
    return found.slice(0, 10);
  });
}

for (const [name, paper, behind] of [
  ['long', 'A4', false],
  ['deep', 'Letter', false],
  ['shelves', 'A4', true],
  ['staggered', 'Letter', true],
] as const) {
  test(`tiles at true size of the plan “${name}” on ${paper}: pots in their size, each whole on one`, async ({
    page,
    folder,
  }) => {
    test.setTimeout(120_000);
    const plan = planOf(name);
    const [tray] = plan.rack.shelves[0]?.trays ?? [];
    const trayIds = tray ? [tray.id] : null;
    const options: PrintOptions = { ...defaultOptions(paper), behind, trayIds };
    const made = printed(plan, 'true-size', options);
    const pages = await rasters(page, made?.html ?? '', folder, dpi);
    expect(pages.length).toBeGreaterThan(1);
    for (const raster of pages) expect(inkAtEdge(raster, 5, dpi)).toBe(0);
    expect(await troubles(page)).toEqual([]);
    const found = await page.evaluate(() => {
      const pxPerMm = 96 / 25.4;
      const diameters = new Set<number>();
      const whole: string[] = [];
      for (const sheet of document.querySelectorAll('.page')) {
        for (const rim of sheet.querySelectorAll('circle[stroke-width=".25"]:not([clip-path])')) {
          diameters.add(Math.round((rim.getBoundingClientRect().width / pxPerMm) * 10) / 10);
        }
        for (const pot of sheet.querySelectorAll<SVGElement>('[data-pot]')) {
          // A guard has no mark.
          if (pot.querySelector('rect')) whole.push(pot.dataset['pot'] ?? '');
        }
      }
      return { diameters: [...diameters], whole: whole.sort() };
    });
    // Rims; the discs of the treatments within them are smaller.
    expect(Math.max(...found.diameters)).toBe(tray?.grid?.potDiameterMm);
    expect(found.whole).toEqual(
      trialPots(plan, options)
        .map((pot) => pot.code)
        .sort(),
    );
  });
}

test('codes on labels and recording sheets are at least 12 pt', async ({ page }) => {
  const plan = planOf('shelves');
  for (const { geometry, paper } of labelPresets) {
    const options = defaultOptions(paper);
    const made = printed(
      plan,
      'labels',
      { ...options, labels: { ...options.labels, geometry } },
      1,
    );
    await expectCodes(page, made?.html ?? '');
  }
  await expectCodes(page, printed(plan, 'recording-sheets', defaultOptions('A4'), 1)?.html ?? '');
});

async function expectCodes(page: Page, html: string): Promise<void> {
  await page.setContent(html);
  const sizesPt = await page.evaluate(() =>
    [...document.querySelectorAll('text')]
      .filter((text) => /^\d[A-Z]+-[A-Z]+\d+$/.test(text.textContent ?? ''))
      .map((text) => {
        const m = text.getScreenCTM();
        return (
          parseFloat(getComputedStyle(text).fontSize) * Math.hypot(m?.a ?? 0, m?.b ?? 0) * 0.75
        );
      }),
  );
  expect(sizesPt.length).toBeGreaterThan(0);
  expect(Math.min(...sizesPt)).toBeGreaterThanOrEqual(11.99);
}

// Codes are set alike on every sheet: the presets take turns, and the smallest labels have both.
const smallest = Math.min(...labelPresets.map(({ geometry }) => geometry.heightMm));
for (const [i, { id, paper, geometry }] of labelPresets.entries()) {
  const both = ['qr', 'data-matrix'] as const;
  for (const symbol of both.filter((_, k) => geometry.heightMm === smallest || k === i % 2)) {
    test(`labels ${id} with ${symbol}: inside the safe margin, and their codes read again`, async ({
      page,
      folder,
    }) => {
      const plan = planOf('thirty');
      const options = defaultOptions(paper);
      const labels = { ...options.labels, geometry, symbol };
      const made = printed(plan, 'labels', { ...options, labels }, 1);
      const [sheet] = await rasters(page, made?.html ?? '', folder, 300);
      if (!sheet) throw new Error('no page was printed');
      expect(inkAtEdge(sheet, 5, 300)).toBe(0);
      await page.emulateMedia({ media: 'print' });
      const codes = await page.evaluate(() =>
        [...document.querySelectorAll('path[shape-rendering]')].map((code) => {
          const { x, y, width, height } = code.getBoundingClientRect();
          return { x, y, width, height };
        }),
      );
      // Of all presets, only labels of 12.7 mm are lower than a QR code with its quiet zone.
      const fits = symbol === 'data-matrix' || geometry.heightMm > 13;
      expect(codes.length > 0, id).toBe(fits);
      const read = codes.map((at) =>
        symbol === 'qr'
          ? readQr(cropped(sheet, at, 4 / 21))
          : readMatrix(cropped(sheet, at, 1 / 12)),
      );
      const expected = trialPots(plan, options).map((pot) => pot.code);
      expect(read).toEqual(expected.slice(0, codes.length));
    });
  }
}

/** The code that stands at a place given in CSS pixels, with its quiet zone as a share of it. */
function cropped(
  { width, grey }: Raster,
  at: { x: number; y: number; width: number; height: number },
  quietShare: number,
): GreySquare {
  const scale = 300 / 96;
  const quiet = at.width * scale * quietShare;
  const [left, top] = [Math.round(at.x * scale - quiet), Math.round(at.y * scale - quiet)];
  const side = Math.round(at.width * scale + 2 * quiet);
  const square = new Uint8ClampedArray(side * side);
  for (let y = 0; y < side; y++) {
    const from = (top + y) * width + left;
    square.set(grey.subarray(from, from + side), y * side);
  }
  return { side, grey: square };
}

test('the bar on a page is 100 mm long on paper', async ({ page, folder }) => {
  const html = printed(planOf('long'), 'tray-charts', defaultOptions('A4'))?.html ?? '';
  const [sheet] = await rasters(page, html, folder, 300);
  if (!sheet) throw new Error('no page was printed');
  // The longest dark run in the lowest 15 mm.
  let longest = 0;
  for (let y = sheet.height - Math.round((15 / 25.4) * 300); y < sheet.height; y++) {
    for (let x = 0, run = 0; x < sheet.width; x++) {
      run = (sheet.grey[y * sheet.width + x] ?? 255) < 200 ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
  }
  expect(Math.abs((longest / 300) * 25.4 - 100)).toBeLessThan(0.3);
});

test('the chart pane: nothing wider than the pane, pages in full width', async ({
  desktopPage,
  consoleErrors,
}) => {
  await desktopPage.getByTestId('example-basil').click();
  await desktopPage.getByTestId('stage-chart').click();
  const pane = desktopPage.getByTestId('chart-pane');
  for (const what of ['tray-charts', 'shelf-charts', 'labels', 'recording-sheets']) {
    await desktopPage.getByTestId('printables').selectOption(what);
    const preview = desktopPage.frameLocator('[data-testid=chart-preview]');
    for (const [width, height] of [
      [1440, 900],
      [1024, 700],
    ] as const) {
      await desktopPage.setViewportSize({ width, height });
      const overflow = await pane.evaluate((element) => element.scrollWidth - element.clientWidth);
      expect(overflow, what).toBeLessThanOrEqual(0);
      await expect(async () => {
        const first = await preview.locator('.page').first().boundingBox();
        const frame = await desktopPage.getByTestId('chart-preview').boundingBox();
        if (!first || !frame) throw new Error(`${what}: no preview`);
        expect(first.x, what).toBeGreaterThanOrEqual(frame.x);
        expect(first.x + first.width, what).toBeLessThanOrEqual(frame.x + frame.width);
        expect(frame.height, what).toBeGreaterThan(200);
      }).toPass();
    }
  }
  forgetOwnScripts(consoleErrors);
});

test('choices of the pane change what is printed and saved', async ({ desktop, consoleErrors }) => {
  const { page } = desktop;
  await page.getByTestId('example-basil').click();
  await page.getByTestId('stage-chart').click();
  const preview = page.frameLocator('[data-testid=chart-preview]');
  await expect(preview.getByText('FRONT – you stand here').first()).toBeVisible();
  await page.getByTestId('chart-log').check();
  await expect(preview.getByText(/^Log: 2026-03-19 Pump of tray 2B/).first()).toBeVisible();
  await page.getByTestId('chart-behind').check();
  await expect(preview.getByText('BACK – you stand here').first()).toBeVisible();
  await page.getByTestId('chart-blinded').check();
  await expect(preview.getByText(/Brookleaf/)).toHaveCount(0);
  await expect(preview.getByText(/^Log:/)).toHaveCount(0);
  await expect(page.getByTestId('chart-log')).toBeHidden();
  // The rack beside the pages, its legend and what the pointer reads tell no treatments either.
  const legend = page.locator('.rack-legend');
  await expect(legend).toHaveText('Blinded: the rack shows no treatments, as on the pages.');
  const { x, y } = await placeOf(page, 68, 80);
  await page.mouse.move(x, y);
  await expect(page.getByTestId('strip-hover')).toContainText('Pot 1A-A1');
  await expect(page.getByTestId('strip-hover')).not.toContainText(/treatment|Brookleaf|feed/);
  await page.getByTestId('stage-layout').click();
  await expect(legend).toContainText('Brookleaf');
  await page.getByTestId('stage-chart').click();
  await expect(page.getByTestId('chart-blinded')).toBeChecked();
  await page.getByTestId('printables').selectOption('sealed-key');
  await expect(preview.getByText(/Brookleaf/).first()).toBeVisible();
  await page.getByTestId('printables').selectOption('labels');
  // The browser's country has Letter.
  await page.getByText('A4', { exact: true }).click();
  await page.getByTestId('label-preset').selectOption('A4-4x10-45x25');
  await expect(page.getByTestId('chart-said')).toContainText('6 pages');
  await page.getByTestId('printer').locator('summary').click();
  await page.getByTestId('printer-name').fill('shed');
  await page.getByTestId('printer-across').fill('98');
  await page.getByTestId('printer-down').press('Tab');
  await expect(page.getByTestId('printer').locator('summary')).toContainText(
    'shed, scale corrected',
  );
  const file = join(desktop.folder, 'labels.html');
  await desktop.willAnswer(file);
  await page.getByRole('button', { name: 'Save HTML…' }).click();
  await expect(page.getByTestId('chart-said')).toHaveText('HTML saved.');
  const saved = await readFile(file, 'utf8');
  expect(saved.match(/class="page whole/g)).toHaveLength(6);
  // 100 / 98.
  expect(saved).toContain('scale(1.020408, 1)');
  // Blinded, no stage tells which tray has which feed, until it is opened with a reason.
  await page.getByTestId('stage-layout').click();
  const blind = page.getByTestId('blind');
  await blind.click();
  await expect(async () => {
    await blind.click();
    await expect(page.getByTestId('blind-banner')).toBeVisible({ timeout: 500 });
  }).toPass();
  await expect(legend).not.toContainText('Brookleaf');
  for (const stage of ['rack', 'light', 'flood']) {
    await page.getByTestId(`stage-${stage}`).click();
    await expect(page.getByTestId('treated-switch').locator('option:checked')).toHaveText(
      'As drawn',
    );
    await expect(page.getByTestId('treated-switch')).not.toContainText('As treated');
  }
  await page.getByTestId('stage-trial').click();
  await expect(page.getByTestId('skeleton')).toContainText('The trial’s own waits');
  await page.getByTestId('open-blinding').click();
  await page.getByTestId('blinding-open-reason').fill('All weighed');
  await page.getByTestId('blinding-open').click();
  await expect(page.getByTestId('blind-banner')).toBeHidden();
  await expect(page.getByTestId('skeleton')).not.toContainText('One draw of many');
  forgetOwnScripts(consoleErrors);
});

/** The preview runs no scripts, those that the test itself puts into every frame included. */
function forgetOwnScripts(errors: string[]): void {
  const others = errors.filter(
    (said) => !said.startsWith("Blocked script execution in 'about:srcdoc'"),
  );
  errors.splice(0, errors.length, ...others);
}
