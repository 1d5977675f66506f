import type { Page } from '@playwright/test';

/** A small window, the usual one zoomed to twice its size, and last the usual one, as specs have it. */
const windows = [
  { width: 1024, height: 700 },
  { width: 720, height: 450 },
  { width: 1440, height: 900 },
];

/**
 * What is cut or sticks out, in every window: words in what hides its rest, choices of a select,
 * things beyond the edge, and parts that must be scrolled both ways. Tables have scrollers of their
 * own, and the canvas is none of this.
 */
export async function cuts(page: Page): Promise<string[]> {
  const found: string[] = [];
  for (const size of windows) {
    await page.setViewportSize(size);
    // A frame for the rules of the new size, one for what measures itself.
    await page.evaluate(
      () =>
        new Promise<void>((done) => {
          requestAnimationFrame(() => requestAnimationFrame(() => done()));
        }),
    );
    const now = await page.evaluate(cutNow);
    found.push(...now.map((said) => `${size.width} × ${size.height}: ${said}`));
  }
  return found;
}

/** Runs in the page, and knows nothing outside itself. */
function cutNow(): string[] {
  const pen = document.createElement('canvas').getContext('2d');
  const found = new Set<string>();
  const own = '.table-frame, .legend-frame, .records-frame, .rack-canvas, svg, iframe';
  for (const element of document.querySelectorAll('body *')) {
    if (!(element instanceof HTMLElement) || !element.checkVisibility()) continue;
    if (element.closest('.visually-hidden')) continue;
    const box = element.getBoundingClientRect();
    if (box.width <= 1 || box.height <= 1) continue;
    const { overflowX, font, paddingLeft, paddingRight, display } = getComputedStyle(element);
    const { className, textContent, tagName, clientWidth, scrollWidth, scrollHeight } = element;
    const name = `${tagName.toLowerCase()}.${className} “${textContent.trim().slice(0, 40)}”`;
    const wider = scrollWidth > clientWidth + 2;
    if (element instanceof HTMLSelectElement && pen) {
      pen.font = font;
      const arrow = 18;
      const text = element.selectedOptions[0]?.textContent ?? '';
      const padding = Number.parseFloat(paddingLeft) + Number.parseFloat(paddingRight);
      const over = pen.measureText(text).width + padding + arrow - clientWidth;
      if (over > 1) found.add(`a choice is cut: ${text}`);
      continue;
    }
    const inOwn = element.closest(own) !== null;
    // What a heading of the window cannot show of a long title, it tells where one points at it.
    const told = element.title !== '';
    if (wider && !inOwn && !told) {
      if (overflowX === 'hidden' || overflowX === 'clip') found.add(`cut: ${name}`);
      const scrolls = overflowX === 'auto' || overflowX === 'scroll';
      if (scrolls && scrollHeight > element.clientHeight + 1)
        found.add(`scrolls both ways: ${name}`);
      const inner = [...element.children].some(
        (child) => child.scrollWidth > child.clientWidth + 2,
      );
      if (overflowX === 'visible' && display !== 'inline' && !inner)
        found.add(`sticks out: ${name}`);
    }
    const scrolled = element.parentElement?.closest(`${own}, .side, .tray-row, [role="tooltip"]`);
    if (!scrolled && box.right > window.innerWidth + 1) found.add(`beyond the edge: ${name}`);
  }
  return [...found];
}
