import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';

const levels = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'];
/** The rules of those levels that look at colours; no other can find anything else in the dark. */
const ofColours = ['color-contrast', 'link-in-text-block'];

/**
 * What offends against WCAG 2.1 A and AA on the page as it stands, in the light and in the dark
 * theme, as far as a machine can tell: by the general-purpose scanner axe-core. The preview of
 * printed pages is a document of its own and is left out.
 */
export async function offences(page: Page): Promise<string[]> {
  const found: string[] = [];
  for (const theme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: theme });
    const scanner = new AxeBuilder({ page }).options({ resultTypes: ['violations'] });
    // In the page itself: a page of its own for the summing up costs more than many a scan.
    scanner.exclude('iframe').setLegacyMode();
    if (theme === 'light') scanner.withTags(levels);
    else scanner.withRules(ofColours);
    const { violations } = await scanner.analyze();
    found.push(...violations.map((v) => `${theme}: ${v.id} at ${String(v.nodes[0]?.target)}`));
  }
  return found;
}
