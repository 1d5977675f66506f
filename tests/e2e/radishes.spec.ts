import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import { program } from './support/program';

const { uniformityCsv, uniformityPlan, writePlan } = program;

// Heath, O. V. S. (1970) Investigation by Experiment, Table 1: the book reports that edge plants
// were larger. Edge mean 9.36 g, inner mean 5.80 g, recomputed from the table; difference 3.56 g
// (2.64 to 4.48), tests/reference/fit/radish-edge-and-moran/expected.json.
test('a published table, imported, shows the edge effect that its book reports', async ({
  desktop,
}) => {
  const { page, folder } = desktop;
  const plan = join(folder, 'radishes.evenrack');
  await writeFile(plan, writePlan(uniformityPlan()));
  const published = await readFile(
    join(import.meta.dirname, '../reference/uniformity/heath.radish.uniformity.csv'),
    'utf8',
  );
  const table = join(folder, 'weights.csv');
  await writeFile(table, uniformityCsv(published));

  await desktop.willAnswer(plan);
  await page.getByRole('button', { name: /Open a plan/ }).click();
  await page.getByTestId('stage-records').click();
  await page.getByRole('button', { name: 'Import, export' }).click();
  await desktop.willAnswer(table);
  await page.getByTestId('import').click();
  await expect(page.getByTestId('import-take')).toHaveText('Take over 399 values');
  await page.getByTestId('import-take').click();

  await page.getByTestId('stage-findings').click();
  const words = page.getByTestId('findings-words');
  await shows(words, 'edge 9.4 g, inner 5.8 g, difference 3.6 g');
  await expect(words).toContainText('2.6 to 4.5 g');
  await page.screenshot({ path: test.info().outputPath('radishes.png') });
});
