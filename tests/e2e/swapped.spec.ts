import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Locator } from '@playwright/test';
import type { Plan } from '../../shared-types/plan';
import { openStage, saved } from './planHelpers';
import { expect, test } from './support/fixtures';
import { program } from './support/program';

const { fourShelves, potsToMeasure } = program;

/** What every pot of the run in hand weighs: 4 g more under the second lamps, 2 g more in run 2. */
function harvestOf(plan: Plan, run: number): string {
  const lamps = plan.trial?.factors.find(({ name }) => name === 'light');
  const bright = lamps?.levels[1]?.id;
  const given = new Map(plan.layout?.assignments.map(({ potId, levels }) => [potId, levels]));
  const lines = potsToMeasure(plan).map(({ id, code }, i) => {
    const lit = given.get(id)?.[lamps?.id ?? ''] === bright ? 4 : 0;
    // Shelves differ, and plants do, the same way in every run.
    const value = 8 + lit + 2 * run + Number(code[0]) + ((i * 37) % 11) / 5;
    return `${code},${value.toFixed(1)}`;
  });
  return ['pot,fresh weight at harvest', ...lines].join('\n');
}

test('a stopped trial is swapped and repeated, and answers over two runs', async ({ desktop }) => {
  const page = await openStage(desktop, fourShelves(), 'trial');
  // The way and the first run by mouse, the second run and the findings by keyboard.
  let by: 'mouse' | 'keyboard' = 'mouse';
  /** Pressed with the pointer, or with Enter where the keyboard stands on it. */
  const press = (at: Locator) => (by === 'mouse' ? at.click() : at.press('Enter'));
  const goTo = (stage: string, key: string) =>
    by === 'mouse' ? page.getByTestId(`stage-${stage}`).click() : page.keyboard.press(key);
  const question = page.getByTestId('skeleton').locator('.question-cards > li').first();
  await expect(question).toContainText('cannot answer');
  const ways = page.getByTestId('ways-out');
  await press(ways.locator('summary').filter({ hasText: /^\d+ more$/ }));
  const way = ways.getByRole('listitem').filter({ hasText: 'levels of light swapped' }).first();
  await press(way.getByRole('button', { name: /Do this/ }));
  await expect(question).not.toContainText('cannot answer');
  const runs = page.getByTestId('run-picker');
  const shown = runs.locator('option:checked');
  await expect(shown).toContainText('Run 1');

  await goTo('layout', 'Alt+5');
  await press(page.getByTestId('draw'));
  await expect(shown).toContainText('Run 1, drawn');
  for (const [run, planted] of ['2026-04-20', '2026-06-01'].entries()) {
    if (run > 0) by = 'keyboard';
    await goTo('layout', 'Alt+5');
    if (run > 0) await page.keyboard.press('Alt+PageDown');
    await expect(shown).toContainText(`Run ${run + 1}, drawn`);
    await page.getByTestId('planted-on').fill(planted);
    await press(page.getByTestId('planted'));
    await goTo('records', 'Alt+7');
    const table = join(desktop.folder, `run${run}.csv`);
    const plan = program.seenFrom(await saved(desktop), await runs.inputValue());
    await writeFile(table, harvestOf(plan, run));
    await desktop.willAnswer(table);
    await press(page.getByTestId('records-panel-tables'));
    await press(page.getByTestId('import'));
    await press(page.getByTestId('import-take'));
    await expect(page.getByTestId('import-dialog')).toHaveCount(0);
  }

  await goTo('findings', 'Alt+8');
  const answers = page.getByTestId('answers');
  // Four grams were put in.
  await expect(answers).toContainText(/(4\.0|3\.9)\d* g more than/, { timeout: 60_000 });
  await expect(answers).toContainText('Swapped between 4 shelves in 2 runs');
  await expect(page.getByTestId('findings')).toContainText('Run 1 and Run 2 are taken together');
  await page.getByRole('heading', { name: 'What is looked at' }).click();
  await page.getByLabel('Runs', { exact: true }).selectOption('shown');
  await expect(answers).not.toContainText('in 2 runs', { timeout: 60_000 });
});
