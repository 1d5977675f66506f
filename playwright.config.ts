import { defineConfig } from '@playwright/test';

// Run through `npm run test:e2e`, which builds the app and finds the browser.
const browser = process.env['EVENRACK_BROWSER'];
const electron = process.env['EVENRACK_ELECTRON'];
const report = process.env['EVENRACK_E2E_REPORT'];

const flags = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // Each page computes on one thread: two pages at once keep two processors busy, at a fifth less.
  '--js-flags=--single-threaded --min-semi-space-size=16',
];

export default defineConfig<{ runtime: 'browser' | 'electron' }>({
  testDir: 'tests/e2e',
  outputDir: 'test-results',
  workers: 2,
  fullyParallel: true,
  forbidOnly: true,
  // One more try, so that a stumble of the machine does not hide the rest; it is told by name.
  retries: 1,
  // Generous, so that a busy machine is no failure.
  timeout: 180_000,
  expect: { timeout: 20_000 },
  reporter: report ? [['list'], ['json', { outputFile: report }]] : [['list']],
  use: {
    viewport: { width: 1440, height: 900 },
    // Days as ISO 8601 has them, a decimal point, Letter: what a test expects of them reads as in files.
    locale: 'en-CA',
    // Recording every page as a film doubles the time of the suite.
    trace: 'off',
    screenshot: 'only-on-failure',
    launchOptions: {
      args: flags,
      chromiumSandbox: process.getuid?.() !== 0,
      ...(browser ? { executablePath: browser } : {}),
    },
  },
  projects: [
    { name: 'browser', use: { runtime: 'browser' } },
    ...(electron
      ? [
          {
            name: 'electron',
            // What is about the browser host alone has no meaning here.
            grepInvert: /@browser-host/,
            use: { runtime: 'electron' as const },
          },
        ]
      : []),
  ],
});
