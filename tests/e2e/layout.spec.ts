import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import type { Plan } from '../../shared-types/plan';
import { openStage, tabTo } from './planHelpers';
import { clickAt, dragOn, placeOf, rackCanvas, startExample } from './rackHelpers';
import type { Desktop } from './support/desktop';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import { program } from './support/program';

const { readPlan, sayProblem, undrawn } = program;

// The basil example: three shelves with three trays of 24 pots, drawn and planted.
const POTS = 216;
/** The two front left pots of tray 1A, on the shelf's axes. */
const FIRST = [68, 80] as const;
const SECOND = [156, 80] as const;

async function openLayout(page: Page): Promise<void> {
  await startExample(page, 'basil');
  await page.getByTestId('stage-layout').click();
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'all');
}

async function planIn(path: string | URL): Promise<Plan> {
  const read = readPlan(await readFile(path, 'utf8'));
  if (!read.ok) throw new Error(sayProblem(read.problem));
  return read.plan;
}

/** The example as it was planted: drawn, weighed at the start, and not yet harvested. */
async function openSown(desktop: Desktop): Promise<Page> {
  const plan = await planIn(new URL('../../renderer/app/examples/basil.json', import.meta.url));
  const start = plan.trial?.measurements.filter(({ timepoint }) => timepoint === 'start') ?? [];
  const values = Object.fromEntries(start.map(({ id }) => [id, plan.records.values[id] ?? {}]));
  const records = { values, second: {}, marks: {}, incidents: [] };
  return openStage(desktop, { ...plan, records }, 'layout');
}

async function unlock(page: Page): Promise<void> {
  await page.getByTestId('unlock-reason').fill('Sown again after damping off');
  await page.getByTestId('unlock').click();
  await expect(page.getByTestId('planted')).toBeVisible();
}

async function drawFrom(page: Page, seed: string): Promise<void> {
  await page.getByTestId('seed').fill(seed);
  await page.getByTestId('draw').click();
  await expect(page.getByText('Drawn from the seed').locator('..')).toContainText(seed);
}

/** The layout as it stands in the plan's file. */
async function kept({ page, folder, willAnswer }: Desktop, name: string) {
  const path = join(folder, `${name}.evenrack`);
  await willAnswer(path);
  await page.getByRole('button', { name: 'Save as…' }).click();
  const read = () => planIn(path);
  await expect
    .poll(() =>
      read().then(
        (plan) => plan.layout !== null,
        () => false,
      ),
    )
    .toBe(true);
  const { layout, records, trial } = await read();
  if (!layout) throw new Error('the saved plan has no layout');
  return { layout, records, trial };
}

test('a seed gives the same layout each time, another seed another one', async ({ desktop }) => {
  const page = await openSown(desktop);
  await unlock(page);
  await drawFrom(page, 'first');
  const first = (await kept(desktop, 'first')).layout;
  expect(first.assignments).toHaveLength(POTS);

  await drawFrom(page, 'second');
  await expect(page.getByTestId('draw-verdict')).toHaveText(/^Drawn anew: \d+ pots changed\.$/);
  const second = (await kept(desktop, 'second')).layout;
  expect(second.assignments).not.toEqual(first.assignments);

  await drawFrom(page, 'first');
  const again = (await kept(desktop, 'again')).layout;
  expect(again.assignments).toEqual(first.assignments);
  await page.getByTestId('draw').click();
  await expect(page.getByTestId('draw-verdict')).toContainText('every pot is as it was');

  await page.getByTestId('draw-new-seed').click();
  await expect(page.getByTestId('seed')).toHaveValue(/^([a-z2-9]{4}-){3}[a-z2-9]{4}$/);
  await page.getByTestId('verify').click();
  await expect(page.getByTestId('draw-verdict')).toContainText('identical, pot by pot');
});

test('a planted layout is verified, and refuses to be drawn or moved', async ({
  desktopPage: page,
}) => {
  await openLayout(page);
  await expect(page.getByTestId('draw')).toBeDisabled();
  await page.getByTestId('verify').click();
  await expect(page.getByTestId('draw-verdict')).toContainText('identical, pot by pot');

  await page.getByTestId('stage-rack').click();
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'front');
  await dragOn(page, { from: [20, 270], to: [60, 270], keys: ['Control'] });
  await expect(page.getByRole('alert')).toContainText(/planted/);
  // By keys into what was refused, out of it again, and where it can be got done.
  await page.keyboard.press('Tab');
  await expect(page.getByTestId('way-on')).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('alert')).toHaveCount(0);
  await expect(rackCanvas(page)).toBeFocused();
  await dragOn(page, { from: [20, 270], to: [60, 270], keys: ['Control'] });
  await page.getByTestId('way-on').press('Enter');
  await expect(page.getByTestId('unlock-reason')).toBeFocused();
  await page.getByTestId('stage-rack').click();
  await clickAt(page, 20, 270);
  await expect(page.getByTestId('tray-x')).toHaveValue('10');
});

test('unlocking asks for a reason and logs it', async ({ desktop }) => {
  const { page } = desktop;
  await openLayout(page);
  await page.getByTestId('unlock').click();
  await expect(page.getByText('Write the reason first')).toBeVisible();
  await page.getByTestId('unlock-reason').fill('Not this');
  await page.getByTestId('seed').scrollIntoViewIfNeeded();
  await page.getByTestId('verify').click();
  // Leaving the field does nothing yet.
  await expect(page.getByTestId('unlock')).toBeVisible();
  await unlock(page);
  const { layout, records } = await kept(desktop, 'unlocked');
  expect(layout.plantedAt).toBeNull();
  expect(records.incidents.at(-1)?.text).toContain('Sown again after damping off');

  // The harvest is in: unlocked or not, the treatments stay under it.
  for (const act of ['draw', 'draw-new-seed']) await expect(page.getByTestId(act)).toBeDisabled();
  await expect(page.getByTestId('records-stand')).toContainText('422 values and 5 marks');

  await page.getByTestId('planted-on').fill('2026-03-05');
  await page.getByTestId('planted-on').press('Enter');
  await page.getByTestId('planted').click();
  await expect(page.getByText('Planted on 2026-03-05')).toBeVisible();

  // The next trial is a plan of its own, and this one has to be safe first.
  await page.getByTestId('next-trial').click();
  await expect(page.getByTestId('records-stand')).toContainText('Save this plan first');
  await kept(desktop, 'harvested');
  await expect(page.getByRole('banner')).not.toContainText('unsaved');
  await page.getByTestId('next-trial').click();
  await expect(page.getByTestId('draw')).toBeEnabled();
  await expect(page.getByRole('banner')).toContainText('next trial');
  await drawFrom(page, 'second run');
});

test('a layout planted before the rule is fixed offers to fix it there and then', async ({
  desktop,
}) => {
  const plan = undrawn('basil');
  const trial = { ...plan.trial };
  delete trial.analysisLocked;
  const page = await openStage(desktop, { ...plan, trial }, 'layout');
  await page.getByTestId('draw').click();
  await expect(page.getByTestId('rule-offer')).toHaveCount(0);
  await page.getByTestId('planted').click();
  const offer = page.getByTestId('rule-offer');
  await expect(offer).toContainText('place: the light at each pot');
  await offer.getByTestId('fix-rule').click();
  await expect(offer).toHaveCount(0);
  const { analysisLocked } = (await kept(desktop, 'fixed')).trial ?? {};
  expect(analysisLocked?.valuesThen).toBe(0);
  await page.keyboard.press('Control+Z');
  await expect(offer).toBeVisible();
});

test('two pots are exchanged by hand, and the exchange is logged', async ({ desktop }) => {
  const { page } = desktop;
  await openLayout(page);
  const before = (await kept(desktop, 'before')).layout;
  await clickAt(page, ...FIRST);
  await expect(page.getByTestId('swaps')).toContainText('Pot 1A-A1 is selected');
  await clickAt(page, ...SECOND, ['Shift']);
  await page.getByTestId('swap-reason').fill('Put down in the wrong hole');
  await page.getByTestId('swap').click();
  await expect(page.getByTestId('swaps')).toContainText('1A-A1 and 1A-A2');
  await expect(page.getByTestId('swaps')).toContainText('Put down in the wrong hole');
  const after = (await kept(desktop, 'after')).layout;
  expect(after.swaps).toMatchObject([
    { a: 't11:1:1', b: 't11:1:2', reason: 'Put down in the wrong hole' },
  ]);
  const levels = (layout: typeof before, id: string) =>
    layout.assignments.find((a) => a.potId === id)?.levels;
  expect(levels(after, 't11:1:1')?.['f54']).toBe(levels(before, 't11:1:2')?.['f54']);
  expect(levels(after, 't11:1:2')?.['f54']).toBe(levels(before, 't11:1:1')?.['f54']);
  await page.getByTestId('verify').click();
  await expect(page.getByTestId('draw-verdict')).toContainText('identical, pot by pot');
});

test('all shelves: the pointer reads pots, a double click opens a shelf, keys change the view', async ({
  desktopPage: page,
}) => {
  await openLayout(page);
  const { x, y } = await placeOf(page, ...FIRST);
  await page.mouse.move(x, y);
  await expect(page.getByTestId('strip-hover')).toContainText(/Pot 1A-A1: .*treatment [A-Z]: feed/);
  await page.mouse.dblclick(x, y);
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'above');
  await expect(rackCanvas(page)).toHaveAttribute('data-shelf', 's10');
  await rackCanvas(page).press('3');
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'all');

  // A stage keeps the view that was chosen on it; what is selected stays over all of them.
  await rackCanvas(page).press('2');
  await page.getByTestId('stage-light').click();
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'all');
  await expect(page.getByTestId('rack-announcement')).toContainText('Pot 1A-A1');
  await page.getByTestId('stage-layout').click();
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'above');
});

test('a balanced draw says what it had to meet and what that gained', async ({ desktop }) => {
  const plan = undrawn('basil');
  const constraint = { acceptanceShare: 0.1, balance: ['light' as const], likeNeighbours: null };
  const page = await openStage(
    desktop,
    { ...plan, trial: { ...plan.trial, constraint } },
    'layout',
  );
  await page.getByTestId('draw').click();
  const balance = page.getByTestId('draw-balance');
  await shows(
    balance,
    /fairer than 90 % of all shuffles.* Imbalance [\d.]+; the best 10 % stay below/,
  );
  await expect(balance).toContainText(/\d+ draws? tried/);
  await expect(balance.getByRole('table')).toContainText('Light');
});

test('a stage opens at its top, wherever the last one was left', async ({ desktopPage: page }) => {
  await openLayout(page);
  const side = page.locator('[data-inspector]');
  await page.getByTestId('balance').getByText('By treatment').scrollIntoViewIfNeeded();
  expect(await side.evaluate((at) => at.scrollTop)).toBeGreaterThan(0);
  await page.getByTestId('stage-trial').click();
  await expect(page.getByTestId('blocks')).toBeAttached();
  expect(await side.evaluate((at) => at.scrollTop)).toBe(0);
});

test('two plants are exchanged with the keyboard alone', async ({ desktop }) => {
  const { page } = desktop;
  await openLayout(page);
  await page.getByTestId('seed').scrollIntoViewIfNeeded();
  await page.getByTestId('verify').focus();
  await tabTo(page, 'swap-a');
  await page.keyboard.type('1a-a1');
  await tabTo(page, 'swap-b');
  await page.keyboard.type('1A-A1');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('swaps')).toContainText('Two different pots are needed');
  await page.keyboard.press('Control+A');
  await page.keyboard.type('1AA2');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('swap-reason')).toBeVisible();
  await page.getByTestId('verify').focus();
  await tabTo(page, 'swap-reason');
  await page.keyboard.type('Put down in the wrong hole');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('swaps')).toContainText('1A-A1 and 1A-A2');
});

test('a layout is unlocked, drawn anew, planted and verified with the keyboard alone', async ({
  desktop,
}) => {
  const page = await openSown(desktop);
  await tabTo(page, 'unlock-reason');
  await page.keyboard.type('Sown again');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('draw')).toBeEnabled();
  // What was pressed is gone: the keyboard goes on from there, not from the top of the window. A
  // hand is slower than the neighbour is to take the focus.
  await expect(page.locator(':focus')).toHaveCount(1);
  await tabTo(page, 'planted-on', 4);
  for (let back = 0; back < 6; back++) {
    await page.keyboard.press('Shift+Tab');
    if (await page.getByTestId('seed').evaluate((seed) => seed === document.activeElement)) break;
  }
  await expect(page.getByTestId('seed')).toBeFocused();
  await page.keyboard.press('Control+A');
  await page.keyboard.type('by hand');
  await tabTo(page, 'draw', 4);
  await page.keyboard.press('Space');
  await expect(page.getByTestId('draw-verdict')).toContainText('Drawn anew');
  await tabTo(page, 'verify', 4);
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('draw-verdict')).toContainText('identical, pot by pot');
  await tabTo(page, 'planted', 6);
  await page.keyboard.press('Enter');
  // A hand is slower than the neighbour is to take the focus of what is gone.
  await expect(page.getByTestId('unlock-reason')).toBeFocused();
  await expect(page.getByTestId('draw')).toBeDisabled();
  const { layout } = await kept(desktop, 'by-hand');
  expect([layout.seed, layout.plantedAt !== null]).toEqual(['by hand', true]);
});
