import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { readPlan, writePlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';
import { example, undrawn } from '../derive/trialPlan';
import type { Desktop } from './support/desktop';
import { expect, test } from './support/fixtures';

async function openStage(desktop: Desktop, plan: Plan, stage: string): Promise<Page> {
  const path = join(desktop.folder, 'plan.evenrack');
  await writeFile(path, writePlan(plan));
  await desktop.willAnswer(path);
  const { page } = desktop;
  await page.keyboard.press('Control+O');
  await page.getByTestId(`stage-${stage}`).click();
  return page;
}

async function saved(desktop: Desktop): Promise<Plan> {
  const path = join(desktop.folder, 'saved.evenrack');
  await desktop.willAnswer(path);
  await desktop.page.keyboard.press('Control+Shift+S');
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('evenrack-plan');
  const read = readPlan(await readFile(path, 'utf8'));
  if (!read.ok) throw new Error('what was saved opens');
  return read.plan;
}

test('one shelf a lamp is named, and a way out is taken and undone', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'trial');
  const judged = page.getByTestId('skeleton');
  await expect(judged).toContainText('lamp is not replicated: 1 shelf a level');
  const ways = page.getByTestId('ways-out');
  await expect(ways).toContainText('160 pots more, 240 in all');

  await ways.getByText('lay lamp on single pots').click();
  await expect(ways.getByRole('table').first()).toContainText('between pots');
  await ways.getByRole('button', { name: /Do this: .*single pots/ }).click();
  await expect(judged).toContainText('lamp: 40 pots a level');
  await expect(ways).toHaveCount(0);
  await page.keyboard.press('Control+Z');
  await expect(judged).toContainText('not replicated');

  await ways.getByText('Report it as a case').click();
  await ways.getByRole('button', { name: /Do this: Report/ }).click();
  await expect(judged).toContainText('lamp is reported as a case');
  await judged.getByRole('button', { name: 'Decide otherwise' }).click();
  await expect(ways).toBeVisible();
});

test('schemes say why they do not fit, and a constrained draw what it brings', async ({
  desktop,
}) => {
  const page = await openStage(desktop, undrawn('basil'), 'trial');
  const blocks = page.getByTestId('blocks');
  await blocks.getByText('of 6 schemes fit this rack').click();
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
  await expect(constraint).toContainText('best 10 % in light');
  await page.getByTestId('try-draw').click();
  await expect(page.getByTestId('draw-trial')).toContainText('Light', { timeout: 30_000 });
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
  await page.getByTestId('use-spread').click({ timeout: 30_000 });
  await expect(page.getByTestId('plant-sd')).not.toHaveValue('4');

  await power.getByText('Take the spread from a pilot').click();
  await page.getByTestId('pilot').fill('3.28 3.09 3.03 3.03\n3.52 3.48 3.38 3.38');
  await page.getByTestId('pilot').blur();
  await expect(power).toContainText('8 plants in 2 lines');
});

test('a rehearsal tells false alarms and power of every factor', async ({ desktop }) => {
  const page = await openStage(desktop, undrawn('two-lamps'), 'trial');
  await page.getByTestId('rehearse').click();
  const table = page.getByTestId('rehearsal-table');
  await expect(table).toContainText('no test', { timeout: 50_000 });
  await expect(page.getByTestId('rehearsal')).toContainText('cannot be tested in this trial');
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
