import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from './support/fixtures';

test('the app starts on the desktop and offers demo, empty rack and an existing plan', async ({
  desktopPage,
}) => {
  await expect(desktopPage.getByRole('heading', { name: 'Evenrack' })).toBeVisible();
  await expect(desktopPage.getByRole('button', { name: /Empty rack/ })).toBeVisible();
  await expect(desktopPage.getByRole('button', { name: /Open a plan/ })).toBeVisible();
  await expect(desktopPage.getByTestId('example-basil')).toBeVisible();
});

test('the app starts in a plain browser @browser-host', async ({ browserPage }) => {
  await expect(browserPage.getByRole('heading', { name: 'Evenrack' })).toBeVisible();
});

test('the demo opens and is saved where the person chooses', async ({ desktop }) => {
  const { page } = desktop;
  await page.getByTestId('example-basil').click();
  await expect(page.getByRole('heading', { name: 'Evenrack' })).toBeHidden();
  const path = join(desktop.folder, 'basil.evenrack');
  await desktop.willAnswer(path);
  await page.keyboard.press('Control+Shift+S');
  await expect.poll(() => readFile(path, 'utf8').catch(() => '')).toContain('evenrack-plan');
});

test('the page runs under the policy that the desktop window has', async ({
  desktopPage,
  consoleErrors,
}) => {
  const blocked = await desktopPage.evaluate(
    () =>
      new Promise<string>((resolve) => {
        document.addEventListener('securitypolicyviolation', (event) =>
          resolve(event.effectiveDirective),
        );
        const script = document.createElement('script');
        script.textContent = 'window.injected = true';
        document.body.append(script);
      }),
  );
  expect(blocked).toContain('script-src');
  // The browser says that it has refused the script, once.
  expect(consoleErrors.splice(0)).toHaveLength(1);
});
