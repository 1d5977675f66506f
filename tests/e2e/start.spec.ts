import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from './support/fixtures';

test('npm start without runtime and display names an address, in one line, and serves the demo there @browser-host', async ({
  page,
}) => {
  const root = join(import.meta.dirname, '..', '..');
  const child = spawn(process.execPath, ['build/start.mjs'], {
    cwd: root,
    env: {
      ...process.env,
      DISPLAY: '',
      WAYLAND_DISPLAY: '',
      ELECTRON_OVERRIDE_DIST_PATH: '/nowhere',
      npm_config_offline: 'true',
    },
  });
  try {
    let said = '';
    const line = new Promise<string>((resolve) => {
      child.stdout.on('data', (part) => {
        said += String(part);
        if (said.includes('\n')) resolve(said);
      });
    });
    expect((await line).trimEnd().split('\n')).toHaveLength(1);
    const [url = ''] = /http:\/\/127\.0\.0\.1:\d+\/\S*/.exec(said) ?? [];
    await page.goto(url);
    await expect(page).toHaveTitle(/Evenrack/);
    await expect(page.getByRole('button', { name: /Open a plan/ })).toBeHidden();
    await expect(page.locator('canvas').first()).toBeVisible();
    // It opens at its point; each step leads to its stage, and the panel can be called again.
    await expect(page.getByTestId('example-says')).toContainText('The answer first');
    await page.getByTestId('example-step-2').click();
    await expect(page.getByTestId('stage-light')).toHaveAttribute('aria-current', 'step');
    await page.getByTestId('example-close').click();
    await expect(page.getByTestId('example-says')).toBeHidden();
    await page.getByTestId('example-again').click();
    await expect(page.getByTestId('example-says')).toContainText('Was it the lamp?');
    await page.getByTestId('plan-title').click();
    await page.keyboard.type('Basil again');
    await page.keyboard.press('Enter');
    await expect(page.getByTestId('plan-title')).toHaveText('Basil again');
    await expect(page.getByTestId('plan-title')).toBeFocused();
  } finally {
    child.kill();
  }
});
