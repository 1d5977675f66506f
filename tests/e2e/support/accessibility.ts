import type { Page } from '@playwright/test';
import axe from 'axe-core';

declare global {
  interface Window {
    axe?: typeof axe;
  }
}

const levels = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'];
/** The rules of those levels that look at colours; no other can find anything else in the dark. */
const ofColours = ['color-contrast', 'link-in-text-block'];

/**
 * What offends against WCAG 2.1 A and AA on the page as it stands, in the light and in the dark
 * theme, as far as a machine can tell: by the general-purpose scanner axe-core. The preview of
 * printed pages is a document of its own and is left out.
 */
export async function offences(page: Page): Promise<string[]> {
  // Once a page: reading it takes the page longer than a scan.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
  const found: string[] = [];
  for (const theme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: theme });
    const rules: axe.RunOnly =
      theme === 'light' ? { type: 'tag', values: levels } : { type: 'rule', values: ofColours };
    const violations = await page.evaluate(async (runOnly) => {
      const options = { runOnly, resultTypes: ['violations' as const], iframes: false };
      const results = await window.axe?.run({ exclude: ['iframe'] }, options);
      return results?.violations.map(({ id, nodes }) => `${id} at ${String(nodes[0]?.target)}`);
    }, rules);
    if (!violations) throw new Error('the scanner is not in the page');
    found.push(...violations.map((said) => `${theme}: ${said}`));
  }
  return found;
}
