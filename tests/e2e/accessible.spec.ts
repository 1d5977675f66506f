import AxeBuilder from '@axe-core/playwright';
import { expect, test } from './support/fixtures';

// WCAG 2.1 A and AA as far as a machine can tell, by the general-purpose scanner axe-core. The
// preview of printed pages is a document of its own and is left out.
for (const theme of ['light', 'dark'] as const) {
  test(`every stage passes the accessibility scan, ${theme}`, async ({ desktopPage: page }) => {
    test.setTimeout(120_000);
    await page.emulateMedia({ colorScheme: theme });
    const found: string[] = [];
    const scan = async (where: string) => {
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'])
        .exclude('iframe')
        .analyze();
      found.push(
        ...violations.map((v) => `${where}: ${v.id} at ${v.nodes[0]?.target.join(' ') ?? ''}`),
      );
    };
    await scan('start');
    await page.getByTestId('example-basil').click();
    for (const stage of ['rack', 'light', 'flood', 'trial', 'layout', 'chart', 'records']) {
      await page.getByTestId(`stage-${stage}`).click();
      await scan(stage);
    }
    await page.getByTestId('stage-findings').click();
    await expect(page.getByTestId('findings-words')).toBeVisible({ timeout: 30_000 });
    await scan('findings');
    await page.getByTestId('open-notices').click();
    await scan('notices');
    expect(found).toEqual([]);
  });
}
