import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { expect } from './support/fixtures';
import { test } from './support/hostPage';

// The browser host in a real browser, on a page that holds nothing else.

/** A browser such as those that know no file handles. */
async function withoutPickers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showOpenFilePicker');
    Reflect.deleteProperty(Window.prototype, 'showOpenFilePicker');
    Reflect.deleteProperty(window, 'showSaveFilePicker');
    Reflect.deleteProperty(Window.prototype, 'showSaveFilePicker');
  });
  await page.reload();
}

/**
 * Pickers that choose the file `picked.evenrack` of the browser's private file system: its handles
 * are of the real kind, only the dialogue is left out. `cancel` in the address hash cancels.
 */
async function withScriptedPickers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const pick = async (): Promise<FileSystemFileHandle> => {
      if (location.hash === '#cancel') throw new DOMException('cancelled', 'AbortError');
      const folder = await navigator.storage.getDirectory();
      return folder.getFileHandle('picked.evenrack', { create: true });
    };
    Object.assign(window, {
      showOpenFilePicker: async () => [await pick()],
      showSaveFilePicker: pick,
    });
  });
  await page.reload();
}

test('without file handles: reads from a file field and saves as a download @browser-host', async ({
  browserPage: page,
  folder,
}) => {
  await withoutPickers(page);
  const path = join(folder, 'trial.evenrack');
  await writeFile(path, 'plan text');
  const choosing = page.waitForEvent('filechooser');
  const opening = page.evaluate(() => window.testHost.open('plan'));
  await (await choosing).setFiles(path);
  const opened = await opening;
  expect(opened).toMatchObject({ text: 'plan text', ref: { name: 'trial.evenrack' } });
  if (!opened) throw new Error('not opened');

  const downloading = page.waitForEvent('download');
  await page.evaluate(
    (ref) => window.testHost.save(ref, 'changed', crypto.randomUUID()),
    opened.ref,
  );
  const download = await downloading;
  expect(download.suggestedFilename()).toBe('trial.evenrack');
  expect(await readFile(await download.path(), 'utf8')).toBe('changed');
  expect(await page.evaluate(() => window.testHost.recentPlans())).toEqual([]);
});

test('without file handles: exports a table and cannot save a PDF @browser-host', async ({
  browserPage: page,
}) => {
  await withoutPickers(page);
  const downloading = page.waitForEvent('download');
  expect(await page.evaluate(() => window.testHost.exportText('a.csv', 'csv', 'x\n'))).toBe(true);
  expect(await readFile(await (await downloading).path(), 'utf8')).toBe('x\n');
  expect(await page.evaluate(() => window.testHost.savePdf('a.pdf', ''))).toBe('unavailable');
});

test('a table is read in any of its encodings, and written byte by byte @browser-host', async ({
  browserPage: page,
  folder,
}) => {
  await withoutPickers(page);
  const windows = join(folder, 'windows.csv');
  await writeFile(windows, Buffer.from([0x54, 0xf6, 0x70, 0x66, 0x65, 0x20, 0x96, 0x20, 0x80]));
  const wide = join(folder, 'wide.csv');
  await writeFile(wide, '\uFEFFTöpfe – €', 'utf16le');
  for (const path of [windows, wide]) {
    const choosing = page.waitForEvent('filechooser');
    const opening = page.evaluate(() => window.testHost.open('table'));
    await (await choosing).setFiles(path);
    expect((await opening)?.text).toBe('Töpfe – €');
  }
  const downloading = page.waitForEvent('download');
  await page.evaluate(() => window.testHost.exportText('a', 'csv', Uint8Array.of(0x80, 0, 0xff)));
  expect([...(await readFile(await (await downloading).path()))]).toEqual([0x80, 0, 0xff]);
});

test('with file handles: saves in place, and opens a recent plan after a reload @browser-host', async ({
  browserPage: page,
}) => {
  await withScriptedPickers(page);
  const ref = await page.evaluate(() =>
    window.testHost.saveAs('x.evenrack', 'a longer text', crypto.randomUUID()),
  );
  if (!ref) throw new Error('not saved');
  expect(ref.name).toBe('picked.evenrack');
  const copy = crypto.randomUUID();
  await page.evaluate(([at, id]) => window.testHost.keepForRecovery(id, 'older', at), [
    ref,
    copy,
  ] as const);
  const saved = await page.evaluate(([at, id]) => window.testHost.save(at, 'shorter', id), [
    ref,
    copy,
  ] as const);
  if (saved.kind !== 'saved') throw new Error('not saved');
  expect(saved.ref).toMatchObject({ key: ref.key, name: ref.name });
  expect(await page.evaluate(() => window.testHost.recoveries())).toEqual([]);
  await page.reload();
  const recent = await page.evaluate(() => window.testHost.recentPlans());
  expect(recent.map((plan) => plan.ref)).toEqual([{ ...ref, seen: null }]);
  const opened = { text: 'shorter', ref: saved.ref };
  expect(await page.evaluate((at) => window.testHost.openRecent(at), ref)).toEqual(opened);
  // The same file chosen again is the same recent plan.
  expect(await page.evaluate(() => window.testHost.open('plan'))).toEqual(opened);
  expect(await page.evaluate(() => window.testHost.recentPlans())).toHaveLength(1);
});

test('a file changed in another tab is told, and is written over only knowingly @browser-host', async ({
  browserPage: page,
  context,
}) => {
  await withScriptedPickers(page);
  const saveAs = () => window.testHost.saveAs('x.evenrack', 'one', crypto.randomUUID());
  const ref = await page.evaluate(saveAs);
  if (!ref) throw new Error('not saved');
  expect(await page.evaluate((at) => window.testHost.holdFile(at), ref)).toBe(true);
  const beside = await context.newPage();
  await beside.goto(page.url());
  await withScriptedPickers(beside);
  const opened = await beside.evaluate(() => window.testHost.open('plan'));
  if (!opened) throw new Error('not opened');
  // The second tab says that the first has the file, until the first lets it go.
  const hold = () => beside.evaluate((at) => window.testHost.holdFile(at), opened.ref);
  expect(await hold()).toBe(false);
  await page.evaluate(() => window.testHost.holdFile(null));
  expect(await hold()).toBe(true);
  const save = (tab: Page, at: typeof ref, text: string) =>
    tab.evaluate(([to, words]) => window.testHost.save(to, words, crypto.randomUUID()), [
      at,
      text,
    ] as const);
  expect(await save(beside, opened.ref, 'theirs')).toMatchObject({ kind: 'saved' });
  const refused = await save(page, ref, 'mine');
  expect(refused).toMatchObject({ kind: 'changed', theirs: { text: 'theirs' } });
  if (refused.kind !== 'changed') throw new Error('not told');
  expect(await page.evaluate((at) => window.testHost.openRecent(at), ref)).toMatchObject({
    text: 'theirs',
  });
  expect(await save(page, { ...ref, seen: refused.theirs.ref.seen }, 'mine')).toMatchObject({
    kind: 'saved',
  });
  // What both hold already is no difference.
  expect(await save(beside, opened.ref, 'mine')).toMatchObject({ kind: 'saved' });
});

test('with file handles: a cancelled dialogue changes nothing @browser-host', async ({
  browserPage: page,
}) => {
  await withScriptedPickers(page);
  await page.evaluate(() => void (location.hash = '#cancel'));
  expect(await page.evaluate(() => window.testHost.open('plan'))).toBeNull();
  expect(
    await page.evaluate(() => window.testHost.saveAs('a', 'b', crypto.randomUUID())),
  ).toBeNull();
  expect(await page.evaluate(() => window.testHost.exportText('a', 'csv', 'b'))).toBe(false);
  expect(await page.evaluate(() => window.testHost.recentPlans())).toEqual([]);
});

test('a plan that is not recent any more is refused by name @browser-host', async ({
  browserPage: page,
}) => {
  const says = page.evaluate(() =>
    window.testHost.openRecent({ key: 'gone', name: 'old.evenrack', seen: null }).catch(String),
  );
  expect(await says).toContain('old.evenrack: is not in the list of recent plans');
});

test('unsaved work of a closed tab is offered to the next one, that of an open tab is not @browser-host', async ({
  browserPage: page,
  context,
}) => {
  const ids = [crypto.randomUUID(), crypto.randomUUID()] as const;
  const ref = { key: 'k', name: 'n', seen: null };
  for (const [i, text] of [
    [0, 'first'],
    [0, 'second'],
    [1, 'another plan'],
  ] as const) {
    await page.evaluate(([id, words, at]) => window.testHost.keepForRecovery(id, words, at), [
      ids[i],
      text,
      ref,
    ] as const);
  }
  const beside = await context.newPage();
  await beside.goto(page.url());
  const texts = (tab: Page) =>
    tab.evaluate(async () =>
      (await window.testHost.recoveries()).map(({ kept }) => kept?.text).sort(),
    );
  expect(await texts(beside)).toEqual([]);
  await page.close();
  await expect.poll(() => texts(beside)).toEqual(['another plan', 'second']);
  // Looking loses nothing; what is thrown away is gone, and that alone.
  await beside.reload();
  await beside.evaluate((id) => window.testHost.forgetRecovery(id), ids[0]);
  expect(await texts(beside)).toEqual(['another plan']);
});

test('a save that a kill cuts off after its file was written is known as our own @browser-host', async ({
  browserPage: page,
  context,
}) => {
  await withScriptedPickers(page);
  const copy = crypto.randomUUID();
  const ref = await page.evaluate((id) => window.testHost.saveAs('x.evenrack', 'one', id), copy);
  if (!ref) throw new Error('not saved');
  // The file is written, and then nothing more is done in this tab.
  await page.evaluate(() => {
    const close = FileSystemWritableFileStream.prototype.close;
    FileSystemWritableFileStream.prototype.close = async function () {
      await close.call(this);
      return new Promise<void>(() => undefined);
    };
  });
  await page.evaluate(
    async ([at, id]) => {
      await window.testHost.keepForRecovery(id, 'two', at);
      void window.testHost.save(at, 'two', id);
    },
    [ref, copy] as const,
  );
  const inFile = () =>
    page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      return (await (await folder.getFileHandle('picked.evenrack')).getFile()).text();
    });
  // While the file is put in place of the old one there may be none for a moment.
  await expect(async () => expect(await inFile()).toBe('two')).toPass();
  await page.evaluate(([at, id]) => window.testHost.keepForRecovery(id, 'three', at), [
    ref,
    copy,
  ] as const);
  const beside = await context.newPage();
  await beside.goto(page.url());
  await page.close();
  const found = () => beside.evaluate(() => window.testHost.recoveries());
  await expect.poll(async () => (await found()).length).toBe(1);
  const [waiting] = await found();
  expect(waiting).toMatchObject({ kept: { text: 'three' }, file: { text: 'two' } });
  const kept = waiting?.kept?.ref;
  if (!kept) throw new Error('the copy knows its file');
  expect(kept.seen).toBe(waiting?.file?.ref.seen);
  const save = (at: typeof kept) =>
    beside.evaluate(([to, id]) => window.testHost.save(to, 'three', id), [at, copy] as const);
  // What the tab had seen before the save would be told as somebody else's change.
  expect(await save(ref)).toMatchObject({ kind: 'changed' });
  expect(await save(kept)).toMatchObject({ kind: 'saved' });
});

test('closing asks first while there is unsaved work, and only then @browser-host', async ({
  browserPage: page,
}) => {
  const asked: string[] = [];
  page.on('dialog', (dialog) => {
    asked.push(dialog.type());
    void dialog.accept();
  });
  // Browsers ask only where the person has done something on the page.
  await page.getByRole('heading').click();
  await page.evaluate(() => window.testHost.setUnsaved(true));
  await page.reload();
  expect(asked).toEqual(['beforeunload']);
  await page.getByRole('heading').click();
  await page.evaluate(() => {
    window.testHost.setUnsaved(true);
    window.testHost.setUnsaved(false);
  });
  await page.reload();
  expect(asked).toEqual(['beforeunload']);
});

test('prints the whole document and runs none of its scripts @browser-host', async ({
  browserPage: page,
  consoleErrors,
}) => {
  await page.evaluate(() => {
    const printed: string[] = [];
    Object.assign(window, { printed });
    document.addEventListener(
      'load',
      ({ target }) => {
        if (!(target instanceof HTMLIFrameElement) || !target.contentWindow) return;
        const { contentWindow } = target;
        contentWindow.print = () => {
          const paragraph = contentWindow.document.querySelector('p');
          const colour = paragraph ? contentWindow.getComputedStyle(paragraph).color : '';
          printed.push(`${paragraph?.textContent ?? ''} ${colour}`);
        };
      },
      true,
    );
  });
  for (const text of ['first chart', 'second chart']) {
    await page.evaluate(
      (words) =>
        window.testHost.print(
          `<style>p{color:rgb(1, 2, 3)}</style><script>parent.ran = true</script><p>${words}</p>`,
        ),
      text,
    );
  }
  expect(await page.evaluate(() => Reflect.get(window, 'printed') as unknown)).toEqual([
    'first chart rgb(1, 2, 3)',
    'second chart rgb(1, 2, 3)',
  ]);
  expect(await page.evaluate(() => Reflect.get(window, 'ran') as unknown)).toBeUndefined();
  expect(await page.locator('iframe').count()).toBe(1);
  // The browser says each time that it has refused the script.
  const refusals = consoleErrors.splice(0);
  expect(refusals.filter((error) => !/[Bb]locked script|script-src/.test(error))).toEqual([]);
});
