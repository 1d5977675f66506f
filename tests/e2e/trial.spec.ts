import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { openStage, saved, tabTo } from './planHelpers';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import { program } from './support/program';

const { example, undrawn, writePlan } = program;

test('one shelf a lamp cannot answer; ways out are shown, taken and undone, or declined', async ({
  desktop,
}) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'trial');
  const judged = page.getByTestId('skeleton');
  const question = judged.getByTestId(/^question-/);
  await expect(question).toContainText('White or red and blue lamp?');
  await expect(question).toContainText('cannot answer');
  await expect(question).toContainText('nothing tells lamp from shelf');
  await judged.getByTestId('skeleton-figures').locator('summary').click();
  await expect(judged.getByTestId('skeleton-table').first()).toContainText('no error term left');

  const ways = page.getByTestId('ways-out');
  // Pots and trays share their lamps.
  await expect(ways).not.toContainText('tray');
  const shelves = ways.getByRole('listitem').filter({ hasText: 'Add 4 shelves like these' });
  await expect(shelves).toContainText('160 pots more');
  await shelves.getByRole('button', { name: 'Show on the rack' }).click();
  await expect(page.getByTestId('undo')).toBeDisabled();
  await shelves.getByRole('button', { name: 'Show on the rack' }).click();
  await shelves.getByRole('button', { name: /Do this/ }).click();
  await expect(question).toContainText('3 against 3');
  await page.keyboard.press('Control+Z');
  await expect(question).toContainText('cannot answer');

  const boards = ways.getByRole('listitem').filter({ hasText: 'across each shelf' });
  await boards.getByRole('button', { name: /Do this/ }).click();
  await expect(question).toContainText('3 bays each');
  await page.keyboard.press('Control+Z');

  await page.getByTestId('grow-anyway').click();
  await expect(ways).toContainText('Write the reason first');
  await page.getByTestId('grow-anyway-reason').fill('A first look.');
  await page.getByTestId('grow-anyway').press('Enter');
  await ways.locator('summary').first().click();
  await expect(ways).toContainText('A first look. Nothing is claimed about lamp');
  await ways.getByRole('button', { name: 'Decide otherwise' }).click();
  await expect(page.getByTestId('grow-anyway')).toBeVisible();
});

test('schemes say why they do not fit, and a constrained draw what it brings', async ({
  desktop,
}) => {
  const page = await openStage(desktop, undrawn('basil'), 'trial');
  const blocks = page.getByTestId('blocks');
  await blocks.getByText('of 7 schemes fit this rack').click();
  await expect(page.getByTestId('scheme-fits')).toContainText(/Latin square.* do not fit/);
  await page.getByTestId('scheme').selectOption({ label: 'Latin square' });
  await expect(blocks.getByRole('status')).toContainText('Only a split plot');
  await page.keyboard.press('Control+Z');
  await expect(page.getByTestId('block-gain')).toContainText('within blocks');

  const constraint = page.getByTestId('constraint');
  await constraint.getByText('What a draw must meet').click();
  await page.getByTestId('acceptance').fill('0.1');
  await page.getByTestId('acceptance').press('Enter');
  await constraint.getByLabel('light').check();
  await expect(constraint).toContainText('best 1 in 10 in light');
  await page.getByTestId('try-draw').click();
  await shows(page.getByTestId('draw-trial'), 'Light');
});

test('the rule is fixed beside the choice of its model, holds a scale, and is released', async ({
  desktop,
}) => {
  const plan = undrawn('basil');
  const trial = { ...plan.trial };
  delete trial.analysisLocked;
  const page = await openStage(desktop, { ...plan, trial }, 'trial');
  const measured = page.getByTestId('measurements');
  await measured.locator('summary', { hasText: 'answers the question' }).click();
  const scale = measured.locator('[data-testid^="scale-"]:visible');
  await scale.selectOption({ label: 'logarithms' });
  const analysis = page.getByTestId('analysis-fold');
  await analysis.locator('summary').click();
  await analysis.getByLabel('Correction for place').selectOption('edge');
  await expect(analysis).toContainText('as logarithms; place: edge and inner pots told apart');
  await analysis.getByTestId('fix-rule').click();
  await expect(analysis.locator('summary')).toContainText('before any value was recorded');
  await scale.selectOption({ label: 'square roots' });
  await expect(page.getByRole('alert')).toContainText('so the scale of the answer stays');
  await expect(scale).toHaveValue('log');
  await analysis.getByTestId('release-rule').click();
  await expect(analysis).toContainText('Write the reason first');
  await analysis.getByTestId('release-rule-reason').fill('weighed wet');
  await analysis.getByTestId('release-rule').click();
  await expect(analysis.getByTestId('fix-rule')).toBeEnabled();
});

test('power follows the spread, typed or from an earlier plan', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('basil'), 'trial');
  const power = page.getByTestId('power');
  await expect(power).toContainText('feed: large enough');
  await page.getByTestId('difference').fill('2');
  await page.getByTestId('difference').press('Enter');
  await expect(power).toContainText('feed: too small');
  await expect(page.getByTestId('power-table')).toContainText('feed × cultivar');

  const earlier = join(desktop.folder, 'earlier.evenrack');
  await writeFile(earlier, writePlan(example('basil')));
  await desktop.willAnswer(earlier);
  await page.getByTestId('earlier-spread').click();
  await page.getByTestId('use-spread').click();
  await expect(page.getByTestId('plant-sd')).not.toHaveValue('4');

  await power.getByText('Take it from a pilot').click();
  await page.getByTestId('pilot').fill('3.28 3.09 3.03 3.03\n3.52 3.48 3.38 3.38');
  await page.getByTestId('pilot').blur();
  await expect(power).toContainText('8 plants in 2 lines');

  const pilot = join(desktop.folder, 'pilot.csv');
  const rows = ['1A,3.28', '1A,3.09', '1A,3.03', '1B,3.52', '1B,3.48', '1B,3.38'];
  await writeFile(pilot, ['tray,fresh weight', ...rows].join('\n'));
  await desktop.willAnswer(pilot);
  await page.getByTestId('pilot-file').click();
  await expect(power).toContainText('fresh weight: 6 plants in 2 of tray');
  await power.getByRole('button', { name: 'Use these figures' }).last().click();
  // Within 1A 0.0169, within 1B 0.0052: √0.01105.
  await expect(page.getByTestId('plant-sd')).toHaveValue('0.105');
});

test('a level is drawn twice as often, and two factors are crossed on strips', async ({
  desktop,
}) => {
  const page = await openStage(desktop, undrawn('basil'), 'trial');
  const factors = page.getByTestId('factors');
  await factors.getByText('cultivar', { exact: true }).click();
  const cultivar = factors.getByRole('group', { name: 'Factor cultivar' });
  await cultivar.getByTestId('times-1').fill('2');
  await cultivar.getByTestId('times-1').press('Enter');
  await expect(factors).toContainText('Brookleaf (2 times)');
  await page.getByTestId('stage-layout').click();
  await page.getByTestId('draw').click();
  const drawn = (await saved(desktop)).layout?.assignments ?? [];
  const pots = new Map<string, number>();
  for (const { levels } of drawn) {
    const level = levels['f54'] ?? '';
    pots.set(level, (pots.get(level) ?? 0) + 1);
  }
  const [first = 0, ...others] = [...pots.values()].sort((a, b) => b - a);
  // 24 pots a tray in fives: the first twice, the rest by lot.
  expect(first).toBeGreaterThan(1.6 * Math.max(...others));

  await page.getByTestId('stage-trial').click();
  await factors.getByText('cultivar', { exact: true }).click();
  await factors.getByText('feed', { exact: true }).click();
  const feed = factors.getByRole('group', { name: 'Factor feed' });
  // Lamps hang over whole shelves: feed tray by tray through them is told at once.
  await feed.getByLabel('Applied through').selectOption({ label: 'lamps and timer' });
  await expect(page.getByTestId('skeleton')).toContainText('Each level stands on one shelf');
  await feed.getByLabel('Applied through').selectOption({ label: 'not said' });
  await feed.getByLabel('Own treatment for each').selectOption({ label: 'strip of rows' });
  await cultivar.getByTestId('times-1').fill('1');
  await cultivar.getByTestId('times-1').press('Enter');
  await cultivar.getByLabel('Own treatment for each').selectOption({ label: 'strip of columns' });
  await page.getByTestId('scheme').selectOption({ label: 'strip plot' });
  await page.getByTestId('blocks-by').selectOption({ label: 'each tray' });
  const blocks = page.getByTestId('blocks');
  await expect(blocks.getByRole('status')).toHaveCount(0);
  await page.getByTestId('skeleton-figures').locator('summary').click();
  const analysis = page.getByTestId('skeleton-table').first();
  await expect(analysis).toContainText('between strips of rows');
  await expect(analysis).toContainText('between strips of columns');
});

test('a rehearsal shows that one shelf a lamp can tell nothing', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'trial');
  await page.getByTestId('rehearse').click();
  await shows(page.getByTestId('rehearsal-table'), 'no test');
  const rehearsal = page.getByTestId('rehearsal');
  await expect(rehearsal).toContainText('lamp cannot be tested in this trial');
  await expect(rehearsal).toContainText(
    /would cry a difference where there is none in \d+ % of trials/,
  );

  // A way out is rehearsed beside it.
  await page.getByTestId('rehearsal-runs').fill('50');
  await page.getByTestId('rehearsal-runs').press('Enter');
  await page.getByTestId('rehearse-what').selectOption('Add 4 shelves like these');
  await page.getByTestId('rehearse').click();
  const beside = page.getByTestId('rehearsals-beside');
  await shows(beside, 'Add 4 shelves like these');
  await expect(beside.getByRole('row').nth(1)).toContainText('no test');
  await expect(beside.getByRole('row').nth(2)).not.toContainText('no test');
});

test('a rehearsal runs the planned analysis, and can be stopped', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('basil'), 'trial');
  const rehearsal = page.getByTestId('rehearsal');
  await page.getByTestId('rehearsal-runs').fill('20000');
  await page.getByTestId('rehearsal-runs').press('Enter');
  await page.getByTestId('rehearse').click();
  await expect(rehearsal.getByRole('progressbar')).toBeVisible();
  await rehearsal.getByRole('button', { name: 'Cancel' }).click();
  await expect(page.getByTestId('rehearse')).toBeVisible();

  await page.getByTestId('start-correlation').fill('0.7');
  await page.getByTestId('start-correlation').press('Enter');
  await page.getByTestId('rehearsal-runs').fill('50');
  await page.getByTestId('rehearsal-runs').press('Enter');
  await page.getByTestId('rehearse').click();
  await shows(page.getByTestId('rehearsal-table'), 'feed × cultivar');
  await expect(rehearsal).toContainText('light at each pot, the value at the start allowed for');
});

test('plants are weighed, given to pots by size, and replaced', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('basil'), 'layout');
  const plants = page.getByTestId('plants');
  const lines = Array.from({ length: 220 }, (_, i) => `B${i + 1}\t${2 + ((i * 37) % 100) / 50}`);
  await page.getByTestId('plant-list').fill(['plant\tg', ...lines].join('\n'));
  await page.getByTestId('plant-list').blur();
  await page.getByTestId('add-plants').click();
  await expect(page.getByTestId('plant-histogram')).toBeVisible();
  await page.getByTestId('seed').fill('plants');
  await page.getByTestId('draw').click();
  await page.getByTestId('place-plants').click();
  await expect(page.getByTestId('placed')).toContainText('216 plants in pots, 4 spares');
  const plan = await saved(desktop);
  expect(plan.layout?.assignments.every((a) => a.plant !== null)).toBe(true);
  expect(plan.plants).toHaveLength(220);
  await page.keyboard.press('Control+Z');
  await expect(page.getByTestId('placed')).toHaveCount(0);
  await expect(plants).toContainText('Give plants to pots');
});

test('folds, selects, figures and the draw’s bounds are worked with the keyboard alone', async ({
  desktop,
}) => {
  const plan = undrawn('basil');
  const trial = { ...plan.trial };
  delete trial.analysisLocked;
  const page = await openStage(desktop, { ...plan, trial }, 'rack');
  await tabTo(page, 'stage-trial');
  await page.keyboard.press('Enter');
  const toSummary = async (words: string) => {
    for (let press = 0; press < 150; press++) {
      const at = await page.evaluate(() => document.activeElement?.textContent ?? '');
      const tag = await page.evaluate(() => document.activeElement?.tagName);
      if (tag === 'SUMMARY' && at.includes(words)) return page.keyboard.press('Enter');
      await page.keyboard.press('Tab');
    }
    throw new Error(`the fold ${words} cannot be reached with Tab`);
  };
  await tabTo(page, 'difference');
  const before = Number(await page.getByTestId('difference').inputValue());
  await page.keyboard.press('ArrowUp');
  expect(Number(await page.getByTestId('difference').inputValue())).toBeGreaterThan(before);

  await toSummary('What a draw must meet');
  await tabTo(page, 'acceptance', 3);
  await page.keyboard.press('Control+A');
  await page.keyboard.type('0.2');
  await page.keyboard.press('Enter');
  await tabTo(page, 'like-neighbours', 3);
  await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  await expect(page.getByTestId('constraint')).toContainText('best 1 in 5 in light');
  await tabTo(page, 'try-draw', 6);
  await page.keyboard.press('Enter');
  await shows(page.getByTestId('draw-trial'), 'Light');

  await toSummary('How it will be analysed');
  await page.keyboard.press('Tab');
  await page.keyboard.press('ArrowDown');
  await expect(page.getByTestId('analysis-fold')).toContainText(
    'a linear trend over rows and columns',
  );
  await tabTo(page, 'fix-rule', 4);
  await page.keyboard.press('Space');
  await expect(page.getByTestId('release-rule')).toBeVisible();
  const kept = (await saved(desktop)).trial;
  expect([kept?.constraint.acceptanceShare, kept?.primaryPosition]).toEqual([0.2, 'linear']);
});

test('levels get their settings by mouse and keyboard, and the rack is seen at one level', async ({
  desktop,
}) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'trial');
  const factors = page.getByTestId('factors');
  await factors.locator('summary', { hasText: 'lamp on shelves' }).click();
  const settings = page.getByTestId('level-settings');
  const white = settings.locator('details').first();
  await white.locator('summary').click();
  await white.getByLabel('Output').fill('50');
  await page.keyboard.press('Tab');
  await expect(white.getByLabel('Hours a day')).toBeFocused();
  await page.keyboard.type('12');
  await page.keyboard.press('Enter');
  await expect(white.locator('summary')).toContainText('output 50 %, 12 h a day');
  await white.getByLabel('Output').fill('150');
  await page.keyboard.press('Enter');
  await expect(white).toContainText('a number from 0 to 100, or nothing, is expected');
  await page.keyboard.press('Escape');

  await page.getByTestId('stage-light').click();
  const shelf = page.getByTestId('evenness').getByRole('row').nth(1);
  const dli = async () => Number(await shelf.getByRole('cell').nth(1).innerText());
  const drawn = await dli();
  await page.getByTestId('treated-switch').selectOption({ label: 'All bays: lamp white' });
  // Half the output for 12 hours in place of 16.
  await expect.poll(async () => (await dli()) / drawn).toBeCloseTo(0.375, 2);
  await page.getByTestId('treated-switch').selectOption({ label: 'As drawn' });
  await expect.poll(dli).toBe(drawn);

  await page.getByTestId('stage-trial').click();
  await page.keyboard.press('Control+Z');
  await page.keyboard.press('Control+Z');
  await expect(settings.locator('details').first().locator('summary')).toContainText('as drawn');
});

test('once planted, what a level sets is corrected with a day and a reason', async ({
  desktop,
}) => {
  const page = await openStage(desktop, example('two-lamps'), 'trial');
  // The button stays in reach where the window is narrow.
  await page.setViewportSize({ width: 1024, height: 700 });
  const factors = page.getByTestId('factors');
  await factors.locator('summary', { hasText: 'lamp on shelves' }).click();
  const white = page.getByTestId('level-settings').locator('details').first();
  await white.locator('summary').click();
  await white.getByLabel('Output').fill('50');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('alert')).toContainText('what the levels of lamp set stays as then');
  await expect(white.locator('summary')).toContainText('as drawn');
  await page.getByTestId('correct-it').click();
  const dialog = page.getByTestId('correction');
  await dialog.getByTestId('correct').click();
  await expect(dialog).toContainText('Write the reason first');
  await dialog.getByTestId('correct-reason').fill('too hot for the seedlings');
  await page.keyboard.press('Enter');
  await expect(dialog).toHaveCount(0);
  await expect(white.locator('summary')).toContainText('output 50 %');
  const after = await saved(desktop);
  expect(after.records.incidents.at(-1)?.text).toContain('too hot for the seedlings');
  await page.keyboard.press('Control+Z');
  await expect(white.locator('summary')).toContainText('as drawn');
});
