import type { Locator, Page } from '@playwright/test';
import { expect } from '@playwright/test';

/** The rack's canvas; it tells its view, scale and origin by data attributes. */
export function rackCanvas(page: Page): Locator {
  return page.getByTestId('rack-canvas');
}

/**
 * The place on the page of a point in mm: across and to the back on the shelf seen from above, across
 * and above the floor on the rack seen from the front.
 */
export async function placeOf(page: Page, acrossMm: number, upMm: number) {
  const canvas = rackCanvas(page);
  const box = await canvas.boundingBox();
  if (!box) throw new Error('the rack is not on the page');
  const figure = async (name: string) => {
    const text = await canvas.getAttribute(name);
    if (!text) throw new Error(`the rack has no ${name} yet`);
    return Number(text);
  };
  const scale = await figure('data-scale');
  return {
    x: box.x + (await figure('data-origin-x')) + acrossMm * scale,
    y: box.y + (await figure('data-origin-y')) - upMm * scale,
  };
}

export async function clickAt(
  page: Page,
  acrossMm: number,
  upMm: number,
  modifiers: ('Shift' | 'Control' | 'Alt')[] = [],
): Promise<void> {
  const { x, y } = await placeOf(page, acrossMm, upMm);
  for (const key of modifiers) await page.keyboard.down(key);
  await page.mouse.click(x, y);
  for (const key of modifiers) await page.keyboard.up(key);
}

export interface Drag {
  from: readonly [number, number];
  to: readonly [number, number];
  /** Held from the first move on. Control suspends snapping. */
  keys?: ('Shift' | 'Control' | 'Alt')[];
  /** Runs before the button is released. */
  midway?: () => Promise<void>;
}

/** Drags from one point in mm to another. */
export async function dragOn(page: Page, drag: Drag): Promise<void> {
  const { keys = [] } = drag;
  const from = await placeOf(page, ...drag.from);
  const to = await placeOf(page, ...drag.to);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (const key of keys) await page.keyboard.down(key);
  await page.mouse.move(to.x, to.y, { steps: 6 });
  await drag.midway?.();
  await page.mouse.up();
  for (const key of keys) await page.keyboard.up(key);
}

/** Begins with an empty rack. */
export async function startEmpty(page: Page): Promise<void> {
  await page.getByRole('button', { name: /Empty rack/ }).click();
  await expect(rackCanvas(page)).toHaveAttribute('data-scale', /\d/);
}

/** Begins with one of the examples. */
export async function startExample(page: Page, name: string): Promise<void> {
  await page.getByTestId(`example-${name}`).click();
  // Examples open where what they show is seen.
  await page.getByTestId('stage-rack').click();
  await page.getByTestId('example-close').click();
  await expect(rackCanvas(page)).toHaveAttribute('data-scale', /\d/);
}

/** Shows the shelf from above and waits until it is there. */
export async function lookFromAbove(page: Page): Promise<void> {
  await page.getByTestId('view-switch').getByText('One shelf').click();
  await expect(rackCanvas(page)).toHaveAttribute('data-view', 'above');
}

/** What a field of the inspector shows. */
export function field(page: Page, testId: string): Locator {
  return page.getByTestId(testId);
}
