import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import type { Plan } from '../../shared-types/plan';
import { sendKeys } from './planHelpers';
import { placeOf, rackCanvas } from './rackHelpers';
import { expect, test } from './support/fixtures';
import type { Desktop } from './support/desktop';
import { program } from './support/program';

const { drawnPlan, potsToMeasure, readPlan, writePlan } = program;

/** The sample, whose trays hold 1A-A1 to 1A-B3 and 2A-A1 to 2A-B3, with a range at harvest. */
function boundedPlan(): Plan {
  const plan = drawnPlan('2026-03-02');
  const trial = plan.trial;
  if (!trial) throw new Error('the sample has a trial');
  const measurements = trial.measurements.map((m) =>
    m.id === 'm2' ? { ...m, lowest: 0, highest: 50, decimals: 2 } : m,
  );
  return { ...plan, trial: { ...trial, measurements } };
}

async function openRecords(desktop: Desktop, plan = boundedPlan()): Promise<Page> {
  const path = join(desktop.folder, 'trial.evenrack');
  await writeFile(path, writePlan(plan));
  await desktop.willAnswer(path);
  const { page } = desktop;
  await page.keyboard.press('Control+O');
  await page.getByTestId('stage-records').click();
  await expect(page.getByTestId('records-grid')).toBeVisible();
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

const cell = (page: Page, pot: string, what = 'fresh weight at harvest') =>
  page.getByLabel(`${what} of ${pot}`, { exact: true });

test('values are typed with Enter in walking order, with comma, unit and undo', async ({
  desktop,
}) => {
  const page = await openRecords(desktop);
  // The first open pot has the cursor; who enters is asked, and kept with what is entered.
  await expect(cell(page, '1A-A1', 'fresh weight at start')).toBeFocused();
  await page.getByTestId('records-initials').fill('KM');
  await cell(page, '1A-A3').click();
  await page.keyboard.type('12,5');
  await page.keyboard.press('Enter', { delay: 90 });
  await expect(page.getByTestId('last-entry')).toHaveText('1A-A312.5 gEnd of row A. Next 1A-B3');
  // There and back: after the end of the first row comes the end of the second.
  await expect(cell(page, '1A-B3')).toBeFocused();
  await page.keyboard.type('0.013 kg');
  await page.keyboard.press('Enter');
  await expect(cell(page, '1A-B3')).toHaveValue('13.00');
  await expect(cell(page, '1A-B2')).toBeFocused();
  await page.keyboard.type('dead');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel(/: plant in 1A-B2$/)).toHaveText(/^dead [0-9-]+ · P5$/);
  await page.keyboard.type('heavy');
  await page.keyboard.press('Enter');
  await expect(cell(page, '1A-B1')).toBeFocused();
  await expect(cell(page, '1A-B1')).toHaveAttribute('aria-invalid', 'true');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+Z');
  await expect(page.getByLabel(/: plant in 1A-B2$/)).toHaveText('P5');
  await page.keyboard.press('Control+Z');
  await expect(cell(page, '1A-B3')).toHaveValue('');
  await expect(cell(page, '1A-A3')).toHaveValue('12.50');
  // Wherever the cursor comes to rest, figures replace what stands there.
  const first = cell(page, '1A-A1');
  await first.click();
  await page.keyboard.type('7');
  await page.keyboard.press('Enter');
  await first.click();
  await first.click();
  await page.keyboard.type('9');
  await expect(first).toHaveValue('9');
  await page.keyboard.press('Escape');
  await page.keyboard.type('8');
  await expect(first).toHaveValue('8');
  await page.keyboard.press('Enter');
  await first.dblclick();
  await page.keyboard.press('Control+Z');
  await expect(first).toHaveValue('7.00');
  await page.keyboard.type('6');
  await expect(first).toHaveValue('6');
  await page.keyboard.press('Enter');
  await expect(page.getByText(/^1A-A1: 6 g replaces 7 g of .* by KM\.$/)).toBeVisible();
  // What is typed from now on was taken a day later; what stood keeps its day.
  await page.getByTestId('records-day').fill('2026-05-01');
  await cell(page, '2A-A1').click();
  await page.keyboard.type('11');
  await page.keyboard.press('Enter');
  await cell(page, '2A-A1').click();
  await page.getByTestId('records-panel-pot').click();
  await expect(page.getByTestId('pot-day-m2')).toHaveValue('2026-05-01');
  await cell(page, '1A-A3').click();
  await expect(page.getByTestId('pot-day-m2')).toHaveValue('');
  await page.getByTestId('pot-day-m2').fill('2026-05-02');
  await page.getByTestId('pot-day-m2').press('Enter');
  await expect(page.getByTestId('pot-values')).toContainText('12.5 g, taken on');
  await expect(page.getByTestId('pot-values')).toContainText(
    /12\.5 g, \d{4}-\d\d-\d\d \d\d:\d\d by KM/,
  );
  expect((await saved(desktop)).records.days).toEqual({
    m2: { 't2:1:1': '2026-05-01', 't1:1:3': '2026-05-02' },
  });
});

test('Enter can go through the measurements of a pot, and rows can run one way', async ({
  desktop,
}) => {
  const page = await openRecords(desktop);
  await page.getByTestId('records-way').selectOption('across');
  await page.getByTestId('records-order').selectOption('rows');
  await cell(page, '1A-A3', 'fresh weight at start').click();
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('held')).toContainText('1A-A3 has no value yet.');
  await expect(cell(page, '1A-A3', 'fresh weight at start')).toBeFocused();
  // Past the time of a line end that is sent twice.
  await page.waitForTimeout(100);
  await page.keyboard.press('Enter');
  await expect(cell(page, '1A-A3')).toBeFocused();
  // An empty pot is left open by Enter struck twice, and stays lit until it has a value.
  await expect(cell(page, '1A-A3', 'fresh weight at start')).toHaveClass(/is-passed/);
  await page.keyboard.type('12');
  await page.keyboard.press('Enter');
  await expect(cell(page, '1A-B1', 'fresh weight at start')).toBeFocused();
});

test('a balance that ends its lines twice fills one cell after another', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await cell(page, '1A-A1').click();
  for (const sent of ['   12.431 g', '+   13.2 g', 'N  14.05 g']) {
    await page.keyboard.insertText(sent);
    await sendKeys(page, ['Enter', 'Enter']);
  }
  await expect(cell(page, '1A-B3')).toBeFocused();
  await page.keyboard.insertText('15.5');
  await sendKeys(page, ['Enter', 'Control+j']);
  await expect(cell(page, '1A-B2')).toBeFocused();
  const { values } = (await saved(desktop)).records;
  expect(values['m2']).toEqual({
    't1:1:1': 12.43,
    't1:1:2': 13.2,
    't1:1:3': 14.05,
    't1:2:3': 15.5,
  });
});

test('a scanned label leads to its pot and is never a value', async ({ desktop }) => {
  const page = await openRecords(desktop);
  const scan = async (label: string) => {
    await page.keyboard.type(label);
    await page.keyboard.press('Enter');
  };
  await cell(page, '1A-A1').click();
  await scan('2A-B2');
  await expect(cell(page, '2A-B2')).toBeFocused();
  await scan('t1:2:3');
  await expect(cell(page, '1A-B3')).toBeFocused();
  // A value typed by hand, then the next label before Enter.
  for (const key of '12.5') await page.keyboard.press(key, { delay: 60 });
  await page.waitForTimeout(120);
  await scan('1A-A2');
  await expect(cell(page, '1A-A2')).toBeFocused();
  await expect(cell(page, '1A-B3')).toHaveValue('12.50');
  // With the cursor on a button, whose Enter must not press it.
  await page.getByTestId('records-panel-keys').focus();
  await sendKeys(page, [...'1A-B1', 'Enter']);
  await expect(cell(page, '1A-B1')).toBeFocused();
  await expect(page.getByTestId('keys-panel')).toBeHidden();
  await scan('9Z-A1');
  await expect(cell(page, '1A-B1')).toBeFocused();
  await expect(page.getByText('No pot bears “9Z-A1”.')).toBeVisible();
  await page.keyboard.press('Escape');
  // The plant's own code, through the find field.
  await page.keyboard.press('Control+f');
  await scan('p12');
  await expect(cell(page, '2A-B3')).toBeFocused();
  expect((await saved(desktop)).records.values).toEqual({ m2: { 't1:2:3': 12.5 } });
});

/** What a scanner or a balance types. */
async function machine(page: Page, text: string, ends: readonly string[] = ['Enter']) {
  await sendKeys(page, [...text, ...ends], true);
}

async function byHand(page: Page, text: string): Promise<void> {
  await page.keyboard.type(text, { delay: 70 });
  await page.waitForTimeout(120);
}

test('labels of figures alone lead to their pots, and what a balance sends is a value', async ({
  desktop,
}) => {
  const plan = boundedPlan();
  const layout = plan.layout && {
    ...plan.layout,
    assignments: plan.layout.assignments.map((a, i) => ({ ...a, plant: String(1001 + i) })),
  };
  const page = await openRecords(desktop, { ...plan, layout });
  await cell(page, '1A-A1').click();
  // 1005 is the plant in the fifth hole of the list: row B, column 2.
  await machine(page, '1005');
  await expect(cell(page, '1A-B2')).toBeFocused();
  await expect(page.getByText('Pot 1A-B2, by the label “1005”.')).toBeVisible();
  await machine(page, '12,43 g', ['Enter', 'Enter']);
  await expect(cell(page, '1A-B1')).toBeFocused();
  // Ended with Tab, or with nothing and Enter by hand.
  await machine(page, '1002', ['Tab']);
  await expect(cell(page, '1A-A2')).toBeFocused();
  await machine(page, '1003', []);
  await page.waitForTimeout(300);
  await page.keyboard.press('Enter');
  await expect(cell(page, '1A-A3')).toBeFocused();
  // The same figures by hand are a value, which is asked about.
  await byHand(page, '1003');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('question')).toContainText('1003 g is outside 0 to 50');
  await expect(cell(page, '1A-B3')).toBeFocused();
  // A value by hand, and the next label before Enter.
  await byHand(page, '12.5');
  await machine(page, '1007');
  await expect(cell(page, '2A-A1')).toBeFocused();
  // A label that no pot bears stays where it is, and is no value.
  await machine(page, '4006381333931');
  await expect(cell(page, '2A-A1')).toBeFocused();
  await expect(cell(page, '2A-A1')).toHaveAttribute('aria-invalid', 'true');
  await page.keyboard.press('Escape');
  // With no cell in focus, as after a click beside the grid.
  await page.evaluate(() => (document.activeElement as HTMLElement).blur());
  await machine(page, '1012');
  await expect(cell(page, '2A-B3')).toBeFocused();
  expect((await saved(desktop)).records.values).toEqual({
    m2: { 't1:2:2': 12.43, 't1:1:3': 1003, 't1:2:3': 12.5 },
  });
});

test('an odd value is asked about, kept, and can be found right', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await cell(page, '1A-A1').click();
  await page.keyboard.type('51');
  await page.keyboard.press('Enter');
  // The question blocks nothing.
  await expect(cell(page, '1A-A2')).toBeFocused();
  await expect(page.getByTestId('question')).toContainText('51 g is outside 0 to 50.');
  await page.keyboard.type('24');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('question')).toBeHidden();
  await page.keyboard.press('F8');
  await expect(cell(page, '1A-A1')).toBeFocused();
  await page.keyboard.press('F9');
  await expect(page.getByTestId('question')).toBeHidden();
  const plan = await saved(desktop);
  expect(plan.records.values['m2']?.['t1:1:1']).toBe(51);
  expect(plan.acceptedNotices).toMatchObject([{ kind: 'value-out-of-range' }]);
});

test('dish, filling and the next open pot', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await cell(page, '1A-A1').click();
  await page.getByTestId('records-panel-dish').click();
  await page.getByTestId('dish').fill('2.5');
  await page.getByTestId('dish').press('Enter');
  await cell(page, '1A-A2').click();
  await page.keyboard.type('14.5');
  await page.keyboard.press('Enter');
  await expect(cell(page, '1A-A2')).toHaveValue('12.00');
  await cell(page, '1A-A1').click();
  await page.keyboard.press('Control+Enter');
  await expect(cell(page, '1A-A3')).toBeFocused();
  await page.getByTestId('tray-row').getByRole('button', { name: /^1A/ }).click();
  await page.getByTestId('fill-value').fill('9');
  await page.getByTestId('fill').click();
  await expect(page.getByTestId('tray-row').getByText('6/6')).toBeVisible();
  await page.getByTestId('fill').isDisabled();
  expect(Object.values((await saved(desktop)).records.values['m2'] ?? {}).sort()).toEqual(
    [12, 9, 9, 9, 9, 9].sort(),
  );
});

test('state, reason, note and photos of a pot, all by keys', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await cell(page, '1A-A2').click();
  await page.keyboard.press('F2');
  await expect(page.getByTestId('pot-state')).toBeFocused();
  await page.getByTestId('pot-state').selectOption('excluded');
  await page.getByTestId('pot-reason').fill('wrong seed');
  await page.getByTestId('pot-note').fill('leaves twice as wide');
  await page.getByTestId('pot-files').fill('photos/1A-A2 front.jpg\nphotos/1A-A2 top.jpg');
  await page.keyboard.press('Escape');
  await expect(cell(page, '1A-A2', 'fresh weight at start')).toBeVisible();
  await expect(page.getByTestId('pot-panel')).toBeHidden();
  const { marks, notes } = (await saved(desktop)).records;
  expect(marks).toMatchObject({ 't1:1:2': { mark: 'excluded', reason: 'wrong seed' } });
  expect(notes).toEqual({
    't1:1:2': {
      text: 'leaves twice as wide',
      files: ['photos/1A-A2 front.jpg', 'photos/1A-A2 top.jpg'],
    },
  });
});

test('a second person enters blind, and what differs is settled', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await cell(page, '1A-A1').click();
  await page.keyboard.type('12');
  await page.keyboard.press('Enter');
  await page.getByTestId('records-panel-second').click();
  await page.getByTestId('entry-by').getByText('Second entry').click();
  await expect(cell(page, '1A-A1')).toHaveValue('');
  await cell(page, '1A-A1').click();
  await page.keyboard.type('21');
  await page.keyboard.press('Enter');
  // A mark is the second person's own.
  await page.keyboard.type('d');
  await page.keyboard.press('Enter');
  await page.getByTestId('entry-by').getByText('First entry').click();
  await expect(page.getByTestId('disagreements')).toContainText('1A-A1');
  await expect(page.getByTestId('disagreements')).not.toContainText('1A-A2');
  await expect(page.getByLabel(/: plant in 1A-A2$/)).toHaveText('P2');
  await page.getByTestId('disagreements').getByRole('button', { name: '21 g' }).click();
  await expect(page.getByTestId('disagreements')).toBeHidden();
  await expect(cell(page, '1A-A1')).toHaveValue('21.00');
});

test('what a shelf got is logged in seconds, with its curve', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await page.getByTestId('records-panel-delivered').click();
  await page.getByTestId('delivered-date').fill('2026-03-19');
  await page.getByTestId('delivered-ppfd').fill('210');
  await page.getByTestId('delivered-ppfd').press('Enter');
  // Enter goes on to the next unit.
  await expect(page.getByTestId('delivered-log')).toContainText('210');
  await expect(page.getByTestId('delivered-ppfd')).toHaveValue('');
  await page.getByTestId('delivered-log').getByText('2026-03-19').click();
  await expect(page.getByTestId('delivered-ppfd')).toHaveValue('210');
  await expect(page.getByTestId('delivered-curve-ppfd')).toBeVisible();
  const { delivered } = (await saved(desktop)).records;
  expect(Object.values(delivered ?? {})).toEqual([{ '2026-03-19': { ppfd: 210 } }]);
  // From a logger's table, whose names of units are asked about first.
  const table = join(desktop.folder, 'logger.csv');
  await writeFile(table, 'Date;P1 Temp (°F)\n20.03.2026 08:00;68\n20.03.2026 20:00;70\n');
  await desktop.willAnswer(table);
  await page.getByTestId('delivered-import').click();
  await expect(page.getByTestId('log-take')).toBeDisabled();
  await page.getByLabel('Unit “p 1”').selectOption({ label: 'Tray 1A' });
  await expect(page.getByTestId('log-figures')).toContainText('20.6');
  await page.getByTestId('log-take').press('Enter');
  await expect(page.getByTestId('delivered-log')).toContainText('20.6');
});

test('an incident is tied to a tray and ringed on the rack', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await cell(page, '1A-A2').click();
  await page.getByTestId('records-panel-log').click();
  await page.getByTestId('incident-date').fill('2026-03-19');
  await page.getByTestId('incident-text').fill('Pump failed');
  await page.getByTestId('incident-about').selectOption({ label: 'tray 1A' });
  await page.getByTestId('incident-add').click();
  await expect(page.getByTestId('incidents')).toContainText('tray 1A');
  expect((await saved(desktop)).records.incidents).toMatchObject([
    { date: '2026-03-19', text: 'Pump failed', about: ['t1'] },
  ]);
  // From the rack, by a right click on a pot.
  const [shown] = boundedPlan().rack.shelves[0]?.trays ?? [];
  if (!shown?.grid) throw new Error('the sample has a tray with pots');
  await rackCanvas(page).press('2');
  const { firstXMm, firstYMm } = shown.grid;
  const pot = await placeOf(page, shown.xMm + firstXMm, shown.yMm + firstYMm);
  await page.mouse.click(pot.x, pot.y, { button: 'right' });
  const asked = page.getByTestId('incident-dialog');
  await expect(asked.getByTestId('incident-about')).toHaveValue('selected');
  await asked.getByTestId('incident-text').fill('Yellow leaf');
  // A red point, PNG.
  const point =
    'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg==';
  const buffer = Buffer.from(point, 'base64');
  await asked
    .getByTestId('incident-photo')
    .setInputFiles({ name: 'leaf.png', mimeType: 'image/png', buffer });
  await expect(asked.getByAltText('To be kept')).toBeVisible();
  await asked.getByTestId('incident-add').click();
  await expect(asked).toBeHidden();
  await expect(page.getByTestId('incidents').getByAltText('Photo of Yellow leaf')).toBeVisible();
  await expect(page.getByTestId('incidents')).toContainText('pot 1A-A1');
  // The photo goes, and another comes later; the focus stays where it was.
  await page.getByAltText('Photo of Yellow leaf').click();
  await page.getByRole('button', { name: 'Remove the photo' }).press('Enter');
  const later = page.getByRole('button', { name: /^Add a photo to .*Yellow leaf/ });
  await expect(later).toBeFocused();
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), later.press('Enter')]);
  await chooser.setFiles({ name: 'leaf.png', mimeType: 'image/png', buffer });
  await expect(page.getByAltText('Photo of Yellow leaf')).toBeVisible();
  await page.getByLabel('Remove the incident of', { exact: false }).first().click();
  // The strip tells of the tray what is logged for it: by keys, and by the pointer beside its pots.
  const strip = page.getByTestId('strip-hover');
  const rack = rackCanvas(page);
  await rack.press('2');
  await rack.press('Escape');
  // What other stages ring is told there.
  await expect(strip).toHaveText(/^Tray 1A: .* · 2026-03-19: Pump failed$/);
  await rack.press('Shift+Tab');
  await expect(strip).toHaveText(/^Shelf 1: (?!.*Pump failed)/);
  const [tray] = boundedPlan().rack.shelves[0]?.trays ?? [];
  if (!tray) throw new Error('the sample has a tray');
  const corner = await placeOf(page, tray.xMm + 4, tray.yMm + 4);
  await page.mouse.move(corner.x, corner.y);
  await expect(strip).toHaveText(/^Tray 1A: .* · 2026-03-19: Pump failed · x \d/);
});

test('a table goes out and comes in with every line accounted for', async ({ desktop }) => {
  const page = await openRecords(desktop);
  await page.getByTestId('records-panel-tables').click();
  await page.getByTestId('export-separator').selectOption(';');
  await page.getByTestId('export-decimal').selectOption(',');
  const out = join(desktop.folder, 'out.csv');
  await desktop.willAnswer(out);
  await page.getByTestId('export').click();
  await expect.poll(() => readFile(out, 'utf8').catch(() => '')).toContain('1A-A1;1;1A;');
  const wide = join(desktop.folder, 'utf16.csv');
  await page.getByTestId('export-encoding').selectOption('utf-16');
  await desktop.willAnswer(wide);
  await page.getByTestId('export').click();
  await expect
    .poll(() => readFile(wide, 'utf16le').catch(() => ''))
    .toBe(`\uFEFF${await readFile(out, 'utf8')}`);
  const table = join(desktop.folder, 'in.csv');
  // Windows-1252, as older programs write: É is one byte.
  const text = 'pot;fresh weight at harvest;\u00C9tat\r\n1A-A1;12,5;\r\n9Z-A1;3;\r\n1A-A2;x;\r\n';
  await writeFile(table, Buffer.from(text, 'latin1'));
  await desktop.willAnswer(table);
  await page.getByTestId('import').click();
  const dialog = page.getByTestId('import-dialog');
  await expect(dialog).toContainText('no pot of this trial has this code');
  await expect(dialog).toContainText('a number is expected');
  await expect(dialog.getByLabel('Column “État”')).toBeVisible();
  await expect(page.getByTestId('import-fate-new')).toHaveText('1 new');
  await expect(dialog).toContainText('1A-A3');
  await page.getByTestId('import-take').click();
  await expect(cell(page, '1A-A1')).toHaveValue('12.50');

  // A workbook, whose second sheet shows the tray as it stands on the rack.
  await desktop.willAnswer(join(import.meta.dirname, '..', 'tables', 'workbooks', 'harvest.xlsx'));
  await page.getByTestId('import').click();
  await page.getByTestId('import-sheet').selectOption('Fresh weight at harvest');
  await expect(dialog).toContainText(
    'Each tray as it stands on the rack. Read: fresh weight at harvest.',
  );
  await page.getByTestId('import-take').click();
  await expect(cell(page, '1A-B3')).toHaveValue('4.30');
});

test('the long table goes out and comes back into an empty plan, marks and notes with it', async ({
  desktop,
}) => {
  const records: Plan['records'] = {
    values: { m1: { 't1:1:1': 2.5 }, m2: { 't1:1:1': 12.5, 't2:2:3': 44.25 } },
    second: { m2: { 't1:1:1': 12.5 } },
    marks: { 't1:1:2': { mark: 'dead', date: '2026-03-09', reason: '=rot, "wet"' } },
    incidents: [],
    notes: { 't1:1:3': { text: '- leans', files: ['photos/a.jpg', 'photos/b.jpg'] } },
  };
  const page = await openRecords(desktop, { ...boundedPlan(), records });
  await page.getByTestId('records-panel-tables').click();
  await page.getByTestId('export-shape').selectOption('long');
  await page.getByTestId('export-separator').selectOption(';');
  await page.getByTestId('export-decimal').selectOption(',');
  const table = join(desktop.folder, 'long.csv');
  await desktop.willAnswer(table);
  await page.getByTestId('export').click();
  await expect.poll(() => readFile(table, 'utf8').catch(() => '')).toContain(';12,5;g;12,5;');
  const empty = join(desktop.folder, 'empty.evenrack');
  await writeFile(empty, writePlan(boundedPlan()));
  await desktop.willAnswer(empty);
  await page.keyboard.press('Control+O');
  await expect(page.getByTestId('records-grid')).toBeHidden();
  await page.getByTestId('stage-records').click();
  await expect(cell(page, '1A-A1')).toHaveValue('');
  await page.getByTestId('records-panel-tables').click();
  await desktop.willAnswer(table);
  await page.getByTestId('import').click();
  await expect(page.getByTestId('import-long')).toContainText('A line for every pot');
  await page.getByTestId('import-take').click();
  await expect(cell(page, '1A-A1')).toHaveValue('12.50');
  // What is new is when it came in.
  const { trail, ...back } = (await saved(desktop)).records;
  expect(back).toEqual(records);
  expect(trail?.replaced).toEqual([]);
});

test('a whole session of recording by keys alone', async ({ desktop }) => {
  const page = await openRecords(desktop);
  // From anywhere: the find field leads to the first pot.
  const focusBy = async (testId: string) => {
    for (let i = 0; i < 80; i++) {
      const at = await page.evaluate(
        () => (document.activeElement as HTMLElement).dataset['testid'],
      );
      if (at === testId) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab does not reach ${testId}`);
  };
  await focusBy('records-find');
  await page.keyboard.type('1a-a1', { delay: 60 });
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowRight');
  await expect(cell(page, '1A-A1')).toBeFocused();
  for (const value of ['12.1', '12,2', '13', 'd', '240', '12.6']) {
    await byHand(page, value);
    await page.keyboard.press('Enter');
    await page.waitForTimeout(120);
  }
  await expect(cell(page, '2A-A1')).toBeFocused();
  // From another stage, too, a pot is found by its code.
  await page.keyboard.press('Alt+5');
  await page.keyboard.press('Control+f');
  await page.keyboard.type('2a-a2');
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('find-pot')).toBeHidden();
  await page.keyboard.press('Alt+7');
  await expect(cell(page, '2A-A2', 'fresh weight at start')).toBeFocused();
  // The odd value: there, looked at, corrected.
  await page.keyboard.press('F8');
  await expect(cell(page, '1A-B2')).toBeFocused();
  await byHand(page, '24');
  await page.keyboard.press('Enter');
  // Day and reason of the dead plant.
  await page.keyboard.press('Control+f');
  await page.keyboard.type('1a-b3', { delay: 60 });
  await page.keyboard.press('Enter');
  await page.keyboard.press('F2');
  await expect(page.getByTestId('pot-state')).toBeFocused();
  await focusBy('pot-reason');
  await page.keyboard.type('rot');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await expect(page.getByTestId('pot-panel')).toBeHidden();
  await expect(cell(page, '1A-B3')).toBeFocused();
  // On to what is still open, and one step back.
  await page.keyboard.press('Control+Enter');
  await expect(cell(page, '2A-A1')).toBeFocused();
  await byHand(page, '9');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+z');
  await expect(cell(page, '2A-A1')).toHaveValue('');
  const { values, marks } = (await saved(desktop)).records;
  expect(values['m2']).toEqual({
    't1:1:1': 12.1,
    't1:1:2': 12.2,
    't1:1:3': 13,
    't1:2:2': 24,
    't1:2:1': 12.6,
  });
  expect(marks).toMatchObject({ 't1:2:3': { mark: 'dead', reason: 'rot' } });
});

test('thousands of pots: only lines in sight are in the page, and Enter goes on past the last', async ({
  desktop,
}) => {
  const sample = drawnPlan();
  const shelves = sample.rack.shelves.map((shelf) => ({
    ...shelf,
    trays: shelf.trays.map((tray) => ({
      ...tray,
      grid: tray.grid && {
        ...tray.grid,
        rows: 40,
        columns: 50,
        pitchXMm: 10,
        pitchYMm: 10,
        firstXMm: 10,
        firstYMm: 10,
        potDiameterMm: 8,
      },
    })),
  }));
  const rack = { ...sample.rack, shelves };
  const pots = potsToMeasure({ rack, layout: null });
  const assignments = pots.map(({ id, shelfId }, i) => ({
    potId: id,
    block: '1',
    levels: { f1: shelfId === 's1' ? 'v1' : 'v2', f2: i % 2 === 0 ? 'v3' : 'v4' },
    plant: null,
  }));
  const layout = sample.layout && { ...sample.layout, assignments };
  const page = await openRecords(desktop, { ...sample, rack, layout });
  const grid = page.getByTestId('records-grid');
  await expect(page.getByTestId('tray-row')).toContainText('0/2000');
  expect(await grid.locator('input').count()).toBeLessThan(150);
  await cell(page, '1A-A1').click();
  // Down to the last line in sight, so that the grid must scroll under the cursor.
  await page.keyboard.press('PageDown');
  await page.keyboard.press('PageDown');
  for (let i = 25; i <= 30; i++) {
    await page.keyboard.type(String(10 + (i % 3)));
    await page.keyboard.press('Enter');
    await expect(cell(page, `1A-A${i + 1}`)).toBeFocused();
  }
  // A figure typed after scrolling away lands where the cursor was.
  await grid.evaluate((element) => element.scrollTo(0, 30_000));
  await expect(cell(page, '1A-A31')).toBeHidden();
  await page.keyboard.type('12.5');
  await expect(cell(page, '1A-A31')).toHaveValue('12.5');
  await page.keyboard.press('Enter');
  await page.getByTestId('records-find').fill('2a-an50');
  await page.getByTestId('records-find').press('Enter');
  await expect(cell(page, '2A-AN50')).toBeFocused();
  await expect(page.getByTestId('tray-row')).toContainText('7/2000');
});
