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
  } finally {
    child.kill();
  }
});
