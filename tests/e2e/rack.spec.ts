import { expect, test } from './support/fixtures';
import {
  clickAt,
  dragOn,
  field,
  lookFromAbove,
  placeOf,
  rackCanvas,
  startEmpty,
} from './rackHelpers';
import { openStage } from './planHelpers';
import { program } from './support/program';
import type { Locator, Page } from '@playwright/test';

/** A shelf of 1200 × 600 mm with a tray of 500 × 400 mm at 100, 100, seen from above. */
async function startWithTray(page: Page): Promise<void> {
  await startEmpty(page);
  await page.getByTestId('add-first-shelf').click();
  await lookFromAbove(page);
  await page.getByTestId('tool-tray').click();
  await dragOn(page, { from: [100, 100], to: [600, 500], keys: ['Control'] });
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1A');
  // What was drawn by hand is typed exactly.
  for (const [id, value] of [
    ['tray-x', '100'],
    ['tray-y', '100'],
    ['tray-width', '500'],
    ['tray-depth', '400'],
  ] as const) {
    await field(page, id).fill(value);
    await field(page, id).press('Enter');
  }
}

test('a rack is drawn with the mouse: shelf, tray, pots, lamp', async ({ desktopPage: page }) => {
  await startEmpty(page);
  await expect(page.getByText('An empty rack')).toBeVisible();
  await page.getByTestId('tool-shelf').click();
  await clickAt(page, 600, 600);
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');

  await lookFromAbove(page);
  await page.getByTestId('tool-tray').click();
  await dragOn(page, { from: [50, 50], to: [600, 550] });
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1A');

  await page.getByTestId('tool-pots').click();
  await clickAt(page, 300, 300);
  await expect(field(page, 'pot-columns')).toHaveValue('4');
  await expect(field(page, 'pot-rows')).toHaveValue('4');

  await page.getByTestId('tool-lamp').click();
  await clickAt(page, 600, 590);
  await expect(page.getByTestId('inspected-name')).toHaveText('Lamp 1 over shelf 1');

  await rackCanvas(page).press('Escape');
  await expect(page.getByTestId('rack-summary')).toContainText('Pots16');
});

test('a drag is one undo step, Escape goes back, Ctrl moves freely, edges snap', async ({
  desktopPage: page,
}) => {
  await startWithTray(page);
  await dragOn(page, { from: [300, 300], to: [341, 323], keys: ['Control'] });
  const movedX = Number(await field(page, 'tray-x').inputValue());
  expect(Math.abs(movedX - 141)).toBeLessThanOrEqual(1);
  await page.keyboard.press('Control+z');
  await expect(field(page, 'tray-x')).toHaveValue('100');
  await expect(field(page, 'tray-y')).toHaveValue('100');

  await dragOn(page, {
    from: [300, 300],
    to: [500, 350],
    midway: async () => {
      await expect(field(page, 'tray-x')).not.toHaveValue('100');
      await page.keyboard.press('Escape');
    },
  });
  await expect(field(page, 'tray-x')).toHaveValue('100');

  // Within 8 pixels of the shelf's left and front sides the tray takes them.
  await dragOn(page, { from: [300, 300], to: [204, 197] });
  await expect(field(page, 'tray-x')).toHaveValue('0');
  await expect(field(page, 'tray-y')).toHaveValue('0');
});

test('a tray is resized by a handle and copied with Alt', async ({ desktopPage: page }) => {
  await startWithTray(page);
  await dragOn(page, { from: [600, 300], to: [700, 300], keys: ['Control'] });
  const width = Number(await field(page, 'tray-width').inputValue());
  expect(Math.abs(width - 600)).toBeLessThanOrEqual(1);
  await expect(field(page, 'tray-x')).toHaveValue('100');

  await dragOn(page, { from: [300, 300], to: [700, 320], keys: ['Alt'] });
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1B');
});

test('the rack is drawn and changed by keyboard alone', async ({ desktopPage: page }) => {
  await startEmpty(page);
  await page.getByTestId('add-first-shelf').focus();
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');

  await rackCanvas(page).focus();
  await page.keyboard.press('Enter');
  await expect(field(page, 'shelf-width')).toBeFocused();
  await page.keyboard.type('1000');
  await page.keyboard.press('Enter');
  await expect(field(page, 'shelf-width')).toHaveValue('1000');
  await page.keyboard.press('Escape');
  await expect(rackCanvas(page)).toBeFocused();

  await page.keyboard.press('Control+d');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 2');
  await expect(page.getByTestId('rack-announcement')).toContainText('Shelf 2');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Shift+ArrowUp');
  // The usual first shelf stands at 300 mm, is 450 mm clear and 50 mm thick.
  await expect(field(page, 'shelf-height')).toHaveValue('811');
  await page.keyboard.press('Control+z');
  await expect(field(page, 'shelf-height')).toHaveValue('800');
  await page.keyboard.press('Delete');
  await page.keyboard.press('Tab');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');

  // A tool taken by its key draws by keys; U goes on to what lies under the new thing.
  await page.keyboard.press('t');
  await expect(page.getByTestId('rack-announcement')).toContainText('New tray on shelf 1');
  for (const key of ['Shift+ArrowLeft', 'ArrowRight', 'Enter']) await page.keyboard.press(key);
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1A');
  // 25 mm from the sides of 1000 mm, less 10 mm and moved by 10 mm.
  await expect(field(page, 'tray-width')).toHaveValue('940');
  await expect(field(page, 'tray-x')).toHaveValue('35');
  await page.keyboard.press('u');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
  await expect(page.getByTestId('strip-hover')).toContainText('press U for tray 1A');
  await page.keyboard.press('u');
  await page.keyboard.press('Delete');
  await page.keyboard.press('Tab');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
  // Tab does not hold the keyboard: after the last thing it leaves the rack.
  await page.keyboard.press('Tab');
  await expect(rackCanvas(page)).not.toBeFocused();
});

/** Goes on by Tab until something has the keyboard, as somebody without a mouse must. */
async function tabTo(page: Page, target: Locator): Promise<void> {
  for (let presses = 0; presses < 80; presses++) {
    const there = await target.evaluateAll((found) => found[0] === document.activeElement);
    if (there) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not come to ${target}`);
}

test('a whole rack is drawn without a mouse', async ({ desktopPage: page }) => {
  const type = async (id: string, text: string) => {
    await tabTo(page, field(page, id));
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await expect(field(page, id)).toHaveValue(text);
  };
  await tabTo(page, page.getByRole('button', { name: /Empty rack/ }));
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByTestId('add-first-shelf'));
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
  // The button has gone with what it stood among: the keyboard goes on at the rack.
  await expect(rackCanvas(page)).toBeFocused();

  await page.keyboard.press('Enter');
  await type('shelf-width', '1000');
  await type('shelf-load', '80');
  await tabTo(page, page.getByTestId('add-tray'));
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1A');
  await expect(rackCanvas(page)).toBeFocused();

  await page.keyboard.press('Enter');
  await type('tray-width', '450');
  await tabTo(page, page.getByTestId('add-pots'));
  await page.keyboard.press('Enter');
  await expect(field(page, 'pot-columns')).toHaveValue('3');
  await tabTo(page, field(page, 'guard-ring'));
  await page.keyboard.press('Space');
  await page.keyboard.press('Escape');
  await expect(rackCanvas(page)).toBeFocused();
  await page.keyboard.press('Control+d');
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1B');
  await page.keyboard.press('Enter');
  await type('tray-x', '525');
  await page.keyboard.press('Escape');

  await page.keyboard.press('Escape');
  await page.keyboard.press('Tab');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
  await page.keyboard.press('Enter');
  await tabTo(page, page.getByTestId('add-lamp'));
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('inspected-name')).toHaveText('Lamp 1 over shelf 1');
  await page.keyboard.press('Shift+ArrowDown');
  await expect(field(page, 'lamp-z')).toHaveValue('410');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Tab');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 1');
  await page.keyboard.press('Control+d');
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 2');
  await page.keyboard.press('Escape');
  const summary = page.getByTestId('rack-summary');
  for (const text of ['Shelves2', 'Trays4', 'Lamps2', 'Pots48']) {
    await expect(summary).toContainText(text);
  }
});

test('from the front a tray and a lamp are copied to the shelf above with Alt', async ({
  desktopPage: page,
}) => {
  await startEmpty(page);
  await page.getByTestId('add-first-shelf').click();
  await page.getByTestId('add-tray').click();
  await field(page, 'tray-width').fill('500');
  await field(page, 'tray-width').press('Enter');
  await rackCanvas(page).press('Escape');
  await rackCanvas(page).press('Tab');
  await page.getByTestId('add-lamp').click();
  await rackCanvas(page).press('Escape');
  await page.getByTestId('tool-shelf').click();
  // Above the first bay, which ends at 750 mm.
  await clickAt(page, 600, 900);
  await expect(page.getByTestId('inspected-name')).toHaveText('Shelf 2');
  await rackCanvas(page).press('0');

  // The first shelf stands at 300 mm, the second at 800 mm.
  await dragOn(page, { from: [100, 330], to: [120, 900], keys: ['Alt', 'Control'] });
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 2A');
  await expect(field(page, 'tray-x')).toHaveValue('45');
  await dragOn(page, { from: [400, 730], to: [400, 1130], keys: ['Alt', 'Control'] });
  await expect(page.getByTestId('inspected-name')).toHaveText('Lamp 1 over shelf 2');
  const z = Number(await field(page, 'lamp-z').inputValue());
  expect(Math.abs(z - 320)).toBeLessThanOrEqual(3);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await rackCanvas(page).press('Escape');
  await expect(page.getByTestId('rack-summary')).toContainText('Trays1');
});

test('weights follow the units of the plan', async ({ desktopPage: page }) => {
  await startEmpty(page);
  await page.getByTestId('add-first-shelf').click();
  await field(page, 'shelf-load').fill('50');
  await field(page, 'shelf-load').press('Enter');
  await rackCanvas(page).press('Escape');
  await page.getByTestId('length-display').getByText('imperial').click();
  await expect(page.getByText('US gallons, pounds')).toBeVisible();
  await rackCanvas(page).press('Tab');
  // 50 kg at 0.45359237 kg a pound.
  await expect(field(page, 'shelf-load')).toHaveValue('110.231');
  await field(page, 'shelf-load').fill('100');
  await field(page, 'shelf-load').press('Enter');
  await expect(field(page, 'shelf-load')).toHaveValue('100');
});

test('guard pots and empty holes are picked on the shelf', async ({ desktopPage: page }) => {
  await startWithTray(page);
  await page.getByTestId('add-pots').click();
  await expect(field(page, 'pot-columns')).toHaveValue('4');
  await field(page, 'guard-ring').check();
  await rackCanvas(page).focus();
  await page.keyboard.press('Escape');
  await expect(page.getByTestId('rack-summary')).toContainText('Guard pots10');

  // Three rows of four 120 mm apart, centred: the first pot stands 70 mm from the tray's left
  // side and 80 mm from its front. Its neighbour in the second row is inside the ring.
  await page.getByTestId('tool-guard').click();
  await clickAt(page, 100 + 70 + 120, 100 + 80 + 120);
  await page.getByTestId('tool-hole').click();
  await clickAt(page, 100 + 70, 100 + 80);
  await rackCanvas(page).press('Escape');
  await expect(page.getByTestId('rack-summary')).toContainText('Pots11');
  await expect(page.getByTestId('rack-summary')).toContainText('Guard pots10');
  await expect(page.getByTestId('rack-summary')).toContainText('Pots that are measured1');

  await clickAt(page, 100 + 70 + 120, 100 + 80 + 120);
  await clickAt(page, 100 + 70 + 120, 100 + 80 + 120);
  await expect(page.getByTestId('inspected-name')).toHaveText('Pot 1A-B2');
});

test('lamps are hung and shelves lifted from the front', async ({ desktopPage: page }) => {
  await startEmpty(page);
  await page.getByTestId('add-first-shelf').click();
  await page.getByTestId('tool-lamp').click();
  await clickAt(page, 600, 650);
  await expect(page.getByTestId('inspected-name')).toHaveText('Lamp 1 over shelf 1');
  await dragOn(page, { from: [400, 660], to: [400, 560], keys: ['Control', 'Shift'] });
  const height = Number(await field(page, 'lamp-z').inputValue());
  expect(Math.abs(height - 250)).toBeLessThanOrEqual(3);
  await expect(field(page, 'lamp-x')).toHaveValue('600');

  await clickAt(page, 100, 290);
  await dragOn(page, { from: [100, 290], to: [100, 390], keys: ['Control'] });
  const lifted = Number(await field(page, 'shelf-height').inputValue());
  expect(Math.abs(lifted - 400)).toBeLessThanOrEqual(3);
});

test('lengths are shown and typed in inches', async ({ desktopPage: page }) => {
  await startWithTray(page);
  await rackCanvas(page).press('Escape');
  await page.getByTestId('length-display').getByText('imperial').click();
  await clickAt(page, 300, 300);
  // 500 mm ÷ 25.4.
  await expect(field(page, 'tray-width')).toHaveValue('19.685');
  await field(page, 'tray-width').fill('20');
  await field(page, 'tray-width').press('Enter');
  await rackCanvas(page).press('Escape');
  await page.getByTestId('length-display').getByText('metric').click();
  await clickAt(page, 300, 300);
  await expect(field(page, 'tray-width')).toHaveValue('508');
});

test('several things are framed, share their figures and move together', async ({
  desktopPage: page,
}) => {
  await startWithTray(page);
  await rackCanvas(page).press('Control+d');
  await field(page, 'tray-x').fill('650');
  await field(page, 'tray-x').press('Enter');
  await dragOn(page, { from: [-40, -40], to: [1240, 590] });
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1A and tray 1B');
  await expect(field(page, 'tray-width')).toHaveValue('500');
  await expect(field(page, 'tray-x')).toHaveAttribute('placeholder', 'differ');
  // Side by side they would stand in one place: that is refused, and their fronts agree already.
  await page.getByTestId('align-left').click();
  await expect(page.getByText(/would stand in one place/).first()).toBeVisible();
  await expect(field(page, 'tray-x')).toHaveAttribute('placeholder', 'differ');
  await field(page, 'tray-depth').fill('300');
  await field(page, 'tray-depth').press('Enter');
  await page.keyboard.press('Control+z');
  await expect(field(page, 'tray-depth')).toHaveValue('400');

  await rackCanvas(page).focus();
  await page.keyboard.press('Shift+ArrowRight');
  await clickAt(page, 300, 300);
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1A');
  await expect(field(page, 'tray-x')).toHaveValue('110');
  await clickAt(page, 900, 300);
  await expect(page.getByTestId('inspected-name')).toHaveText('Tray 1B');
  await expect(field(page, 'tray-x')).toHaveValue('660');
});

test('the rack is panned, zoomed about the pointer and fitted again', async ({
  desktopPage: page,
}) => {
  await startWithTray(page);
  const canvas = rackCanvas(page);
  const before = await placeOf(page, 300, 300);
  await page.mouse.move(before.x, before.y);
  await page.keyboard.down('Control');
  await page.mouse.wheel(0, -120);
  await page.keyboard.up('Control');
  await expect
    .poll(async () => Number(await canvas.getAttribute('data-scale')))
    .toBeGreaterThan(0.8);
  const after = await placeOf(page, 300, 300);
  expect(Math.abs(after.x - before.x)).toBeLessThan(1);
  expect(Math.abs(after.y - before.y)).toBeLessThan(1);

  await page.mouse.wheel(40, 30);
  await expect.poll(async () => Math.round((await placeOf(page, 300, 300)).x - after.x)).toBe(-40);

  await canvas.focus();
  await page.keyboard.down('Space');
  await page.mouse.down();
  await page.mouse.move(before.x + 50, before.y, { steps: 3 });
  await page.mouse.up();
  await page.keyboard.up('Space');
  await expect.poll(async () => Math.round((await placeOf(page, 300, 300)).x - after.x)).toBe(10);
  await expect(field(page, 'tray-x')).toHaveValue('100');

  await canvas.press('0');
  await expect.poll(async () => Math.round((await placeOf(page, 300, 300)).x - before.x)).toBe(0);
});

test('lamps are dragged among all shelves on the Light stage, each over its own shelf', async ({
  desktop,
}) => {
  const page = await openStage(desktop, program.undrawn('basil'), 'light');
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'all');
  const evenness = page.getByTestId('evenness');
  const rowOf = (name: string) => evenness.getByRole('row', { name }).first();
  const [lower, upper] = [rowOf('Tray 1B'), rowOf('Tray 2B')];
  const before = { lower: await lower.innerText(), upper: await upper.innerText() };
  // Shelf 2 begins 684 mm up: 600 mm of shelf 1 and a gap of 84 mm.
  await dragOn(page, { from: [700, 684 + 220], to: [700, 684 + 220 + 60], keys: ['Control'] });
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'all');
  await expect(page.getByTestId('rack-announcement')).toContainText(/Lamp \d over shelf 2/);
  await expect.poll(() => upper.innerText()).not.toBe(before.upper);
  expect(await lower.innerText()).toBe(before.lower);
  await page.keyboard.press('Control+z');
  await expect.poll(() => upper.innerText()).toBe(before.upper);
});

test('the strip tells of a tray why it is ringed, by pointer and by keys', async ({
  desktopPage: page,
}) => {
  await startWithTray(page);
  const strip = page.getByTestId('strip-hover');
  const over = await placeOf(page, 300, 300);
  await page.mouse.move(over.x, over.y);
  await expect(strip).toHaveText('Tray 1A: 500 mm × 400 mm, 0 pots · x 300 mm, y 300 mm');
  await field(page, 'tray-x').fill('900');
  await field(page, 'tray-x').press('Enter');
  const beyond = await placeOf(page, 1000, 300);
  await page.mouse.move(beyond.x, beyond.y);
  const why = /^Tray 1A: 500 mm × 400 mm, 0 pots · .*1A.*200 mm/;
  await expect(strip).toHaveText(why);
  const aside = await placeOf(page, 300, 300);
  await page.mouse.move(aside.x, aside.y);
  await expect(strip).toHaveText(/^Shelf 1:/);
  await rackCanvas(page).press('Escape');
  await rackCanvas(page).press('Tab');
  await expect(strip).toHaveText(/^Shelf 1:/);
  await rackCanvas(page).press('Tab');
  await expect(strip).toHaveText(why);
  await expect(page.getByTestId('rack-announcement')).toHaveText(why);
});

test('boards part shelves into bays, by mouse and by keyboard', async ({ desktopPage: page }) => {
  await startWithTray(page);
  await field(page, 'tray-width').fill('1000');
  await field(page, 'tray-width').press('Enter');
  await page.getByTestId('tool-pots').click();
  await clickAt(page, 300, 300);
  await page.getByTestId('tool-lamp').click();
  await clickAt(page, 600, 560);

  // By mouse: a click near the middle means the middle; what it takes is told.
  await page.getByTestId('tool-board').click();
  await clickAt(page, 612, 60);
  await expect(page.getByTestId('inspected-name')).toHaveText('Board 1 on shelf 1');
  await expect(field(page, 'board-at')).toHaveValue('600');
  await expect(page.getByTestId('lamps-in-the-way')).toBeVisible();
  await page.getByTestId('part-lamps').click();
  await expect(page.getByTestId('lamps-in-the-way')).toHaveCount(0);

  // Dragged, it goes from side to side alone, and the inspector follows.
  await dragOn(page, { from: [600, 60], to: [640, 200], keys: ['Control'] });
  await expect(field(page, 'board-at')).toHaveValue('640');

  // By keyboard: arrows move it, Enter leads to its figures, Delete takes it away and fills the holes.
  const canvas = rackCanvas(page);
  await canvas.focus();
  await canvas.press('ArrowLeft');
  await expect(field(page, 'board-at')).not.toHaveValue('640');
  await canvas.press('Enter');
  await field(page, 'board-at').fill('600');
  await field(page, 'board-at').press('Enter');
  await canvas.focus();
  await canvas.press('Delete');
  await expect(page.getByTestId('rack-summary')).toContainText('Pots24');

  // Another rack stands beside it in the room; keys and pointer move it, R turns it.
  await page.getByTestId('another-rack').click();
  const second = page.getByTestId('rack-2');
  await second.focus();
  await expect(field(page, 'rack-left')).toHaveValue('1250');
  await second.press('ArrowRight');
  await expect(field(page, 'rack-left')).toHaveValue('1300');
  await second.press('r');
  await expect(field(page, 'rack-left')).toHaveValue('1600');
  const box = await second.boundingBox();
  if (!box) throw new Error('the second rack is expected in the picture');
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width, box.y + box.height / 2, { steps: 3 });
  await page.mouse.up();
  await expect(field(page, 'rack-left')).not.toHaveValue('1600');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(field(page, 'rack-left')).toHaveValue('1600');
  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(page.getByTestId('rack-2')).toHaveCount(0);

  // The buttons of the shelf say beforehand what a board does; a bay has a timer of its own.
  await clickAt(page, 1190, 30);
  await expect(page.getByTestId('bays')).toContainText('Makes 2 bays on this shelf.');
  await page.getByTestId('add-board-lengthwise').focus();
  await page.keyboard.press('Enter');
  await expect(page.getByTestId('inspected-name')).toHaveText('Board 1 on shelf 1');
  await clickAt(page, 1190, 30);
  await field(page, 'bay-hours-1-back').fill('12');
  await field(page, 'bay-hours-1-back').press('Enter');
  await expect(field(page, 'bay-hours-1-back')).toHaveValue('12');
});
