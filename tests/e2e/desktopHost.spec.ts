import { readFile, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { execFileSync } from 'node:child_process';
import { expect } from './support/fixtures';
import { test } from './support/hostPage';

// The desktop host in a real page over the real handlers and a real folder; only the transport
// between them is not Electron's.

test('saves, kills, restarts, recovers and opens the recent plan @browser-host', async ({
  desktop,
}) => {
  const path = join(desktop.folder, 'trial.evenrack');
  await desktop.willAnswer(path);
  expect(await desktop.page.evaluate(() => window.testHost.kind)).toBe('desktop');
  const ref = await desktop.page.evaluate(() =>
    window.testHost.saveAs('a.evenrack', 'Töpfe', crypto.randomUUID()),
  );
  expect(ref).toMatchObject({ key: path, name: 'trial.evenrack' });
  expect(await readFile(path, 'utf8')).toBe('Töpfe');
  await desktop.page.evaluate(
    (at) => window.testHost.keepForRecovery(crypto.randomUUID(), 'newer', at),
    ref,
  );

  const page = await desktop.killAndRestart();
  expect(await page.evaluate(() => window.testHost.recoveries())).toMatchObject([
    { kept: { text: 'newer', ref }, file: { text: 'Töpfe' } },
  ]);
  const [recent] = await page.evaluate(() => window.testHost.recentPlans());
  expect(recent?.ref.key).toBe(path);
  if (!recent) throw new Error('no recent plan');
  const opened = await page.evaluate((at) => window.testHost.openRecent(at), recent.ref);
  expect(opened.text).toBe('Töpfe');
  expect((await readdir(desktop.folder)).sort()).toEqual([
    'recent-plans.json',
    'recovery',
    'trial.evenrack',
  ]);
});

test('a page that names a path of its own is refused @browser-host', async ({ desktop }) => {
  const path = join(desktop.folder, 'theirs.txt');
  await writeFile(path, 'theirs');
  const says = await desktop.page.evaluate(
    (key) =>
      window.testHost
        .save({ key, name: 'x', seen: null }, 'ours', crypto.randomUUID())
        .catch(String),
    path,
  );
  expect(says).toContain('was not chosen in this window');
  expect(await readFile(path, 'utf8')).toBe('theirs');
});

test('a PDF has the page size that the document asks for @browser-host', async ({ desktop }) => {
  const path = join(desktop.folder, 'chart.pdf');
  await desktop.willAnswer(path);
  const html = '<!doctype html><style>@page{size:A4 landscape}</style><p>chart</p>';
  expect(await desktop.page.evaluate((page) => window.testHost.savePdf('c.pdf', page), html)).toBe(
    'saved',
  );
  // ISO 216: 297 × 210 mm.
  expect(execFileSync('pdfinfo', [path], { encoding: 'utf8' })).toMatch(
    /Page size: +84[12]\.?\d* x 59[45]/,
  );
});

test('messages of the shell reach the page @browser-host', async ({ desktop }) => {
  const { page } = desktop;
  await page.evaluate(() => {
    const heard: string[] = [];
    Object.assign(window, { heard });
    window.testHost.onMenu((action) => heard.push(action));
    window.testHost.onOpenRequest(({ text }) => heard.push(text));
  });
  await desktop.tell('menu', 'save');
  await desktop.tell('openRequest', { text: 'plan', ref: { key: '/a', name: 'a', seen: null } });
  expect(await page.evaluate(() => Reflect.get(window, 'heard') as unknown)).toEqual([
    'save',
    'plan',
  ]);
});
