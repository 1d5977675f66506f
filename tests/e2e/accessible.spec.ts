import { openStage } from './planHelpers';
import { cuts } from './support/cuts';
import { offences } from './support/accessibility';
import { expect, test } from './support/fixtures';
import { shows } from './support/shows';
import { program } from './support/program';

const { smallBasil } = program;

test('every stage passes the accessibility scan, light and dark, and is cut in no window', async ({
  desktop,
}) => {
  const { page } = desktop;
  const found: Record<string, string[]> = {};
  const scan = async (where: string) => {
    const offending = await offences(page);
    const cut = await cuts(page);
    if (offending.length + cut.length > 0) found[where] = [...offending, ...cut];
  };
  await scan('start');
  await page.getByTestId('quick-start').click();
  await page.getByTestId('quick-sentence').fill('two lights, two kinds');
  await page.getByTestId('quick-pots').fill('20 × 20');
  await page.getByTestId('quick-pots').press('Enter');
  await scan('quick start');
  await page.getByRole('button', { name: /Fit to tray/ }).click();
  await page.getByTestId('quick-ask').click();
  await scan('verdict of the quick start');
  await page.keyboard.press('Control+Z');
  await openStage(desktop, smallBasil(), 'rack');
  for (const stage of ['rack', 'light', 'flood', 'trial', 'layout', 'chart', 'records']) {
    await page.getByTestId(`stage-${stage}`).click();
    await scan(stage);
  }
  await page.getByTestId('stage-findings').click();
  await shows(page.getByTestId('findings-words'));
  await scan('findings');
  await page
    .locator('aside details.fold-part')
    .evaluateAll((folds) => folds.forEach((fold) => fold.setAttribute('open', '')));
  await shows(page.getByTestId('light-figure').locator('svg'));
  await scan('findings unfolded');
  await page.getByTestId('open-notices').click();
  await scan('notices');
  expect(found).toEqual({});
});
