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

test('the page runs under the policy that the desktop window has', async ({ desktopPage }) => {
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
});
