import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
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
  const question = page.getByTestId('skeleton').locator('.question-cards > li').first();
  await expect(question).toContainText('cannot answer');
  const ways = page.getByTestId('ways-out');
  await ways.getByText(/^\d+ more$/).click();
  const way = ways.getByRole('listitem').filter({ hasText: 'levels of light swapped' });
  await way
    .first()
    .getByRole('button', { name: /Do this/ })
    .click();
  await expect(question).not.toContainText('cannot answer');
  const runs = page.getByTestId('run-picker');
  const ids = await runs
    .locator('option')
    .evaluateAll((all) => all.map((o) => o.getAttribute('value') ?? ''));
  expect(ids.length).toBeGreaterThan(1);

  await page.getByTestId('stage-layout').click();
  await page.getByTestId('draw').click();
  const [first = '', second = ''] = ids;
  for (const [run, id] of [first, second].entries()) {
    await page.getByTestId('stage-layout').click();
    await runs.selectOption(id);
    await page.getByTestId('planted-on').fill(['2026-04-20', '2026-06-01'][run] ?? '');
    await page.getByTestId('planted').click();
    await page.getByTestId('stage-records').click();
    const table = join(desktop.folder, `run${run}.csv`);
    await writeFile(table, harvestOf(await seen(), run));
    await desktop.willAnswer(table);
    await page.getByTestId('records-panel-tables').click();
    await page.getByTestId('import').click();
    await page.getByTestId('import-take').click();
    await expect(page.getByTestId('import-dialog')).toHaveCount(0);
  }

  await page.getByTestId('stage-findings').click();
  const answers = page.getByTestId('answers');
  await expect(answers).toContainText('4.0', { timeout: 60_000 });
  await expect(answers).toContainText('in 2 runs');
  await expect(page.getByTestId('findings')).toContainText('Run 1 and Run 2 are taken together');
  await page.getByRole('heading', { name: 'What is looked at' }).click();
  await page.getByLabel('Runs', { exact: true }).selectOption('shown');
  await expect(answers).not.toContainText('in 2 runs', { timeout: 60_000 });

  /** The run in hand, as the file keeps it. */
  async function seen(): Promise<Plan> {
    const at = await runs.inputValue();
    return program.seenFrom(await saved(desktop), at);
  }
});
