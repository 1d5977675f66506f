import { execFileSync } from 'node:child_process';
import { chmod, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, expect, test, vi } from 'vitest';
import { htmlToPdf } from '../../../electron/batch/pdf';
import { serveHere } from '../../../electron/loopback';
import { withAttachments } from '../../../electron/services/files/pdfAttachments';
import { tempFolder } from '../tempFolder';

afterEach(() => void vi.unstubAllEnvs());

// ISO 216: A4 is 210 × 297 mm; ANSI/ASME Y14.1: Letter is 8.5 × 11 in. 72 points an inch.
const a4 = [(210 / 25.4) * 72, (297 / 25.4) * 72] as const;
const letter = [8.5 * 72, 11 * 72] as const;

test.each([
  ['A4 portrait', a4[0], a4[1]],
  ['Letter landscape', letter[1], letter[0]],
])('a document of %s is printed on pages of that size', async (size, width, height) => {
  const file = join(await tempFolder(), 'chart.pdf');
  const html = `<!doctype html><style>@page{size:${size};margin:10mm} p+p{break-before:page}</style><p>one<p>two`;
  const pdf = await htmlToPdf(html);
  if (!pdf.ok) throw new Error(pdf.why);
  await writeFile(file, pdf.bytes);
  const info = execFileSync('pdfinfo', [file], { encoding: 'utf8' });
  expect(info).toMatch(/^Pages: +2$/m);
  const [, w, h] = /^Page size: +([\d.]+) x ([\d.]+) pts/m.exec(info) ?? [];
  expect(Math.abs(Number(w) - width)).toBeLessThan(1);
  expect(Math.abs(Number(h) - height)).toBeLessThan(1);
});

test('a document becomes a tagged PDF with title, language, bookmarks and attached files', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'report.pdf');
  const html = '<!doctype html><html lang="en"><title>Basil</title><h1>One</h1><h2>Two</h2>';
  const pdf = await htmlToPdf(html);
  if (!pdf.ok) throw new Error(pdf.why);
  const text = 'pot,g\n1A-A1,4.2\n';
  const data = { name: 'data.csv', type: 'text/csv', text, about: 'one row a pot' };
  await writeFile(file, withAttachments(pdf.bytes, [data]));
  const info = execFileSync('pdfinfo', [file], { encoding: 'utf8' });
  expect(info).toMatch(/^Title: +Basil$/m);
  expect(info).toMatch(/^Tagged: +yes$/m);
  const raw = Buffer.from(pdf.bytes).toString('latin1');
  expect(raw).toContain('/Lang (en)');
  expect(raw).toContain('/Outlines');
  execFileSync('pdfdetach', ['-saveall', '-o', folder, file]);
  expect(await readFile(join(folder, 'data.csv'), 'utf8')).toBe(text);
});

/** A browser that is a shell script, with a home and a temporary folder of the test's own. */
async function browserThat(does: string): Promise<{ home: string; temp: string; browser: string }> {
  const [home, temp] = [await tempFolder(), await tempFolder()];
  const browser = join(home, 'browser.sh');
  await writeFile(
    browser,
    `#!/bin/sh\nfor a in "$@"; do case $a in --print-to-pdf=*) pdf=\${a#*=};; esac; done\n${does}\n`,
  );
  await chmod(browser, 0o755);
  vi.stubEnv('EVENRACK_BROWSER', browser);
  vi.stubEnv('HOME', home);
  return { home, temp, browser };
}

/** The page is the last word that the browser is started with. */
const readPage = `for a in "$@"; do :; done; '${process.execPath}' -e 'fetch(process.argv[1])' "$a"`;

test('without a browser there is no PDF, and it says so', async () => {
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  expect(await htmlToPdf('<p>chart')).toEqual({
    ok: false,
    why: 'no Chromium-family browser is installed',
  });
});

test.each([
  ['ends well without a PDF', 'exit 0', 'ended without writing one'],
  ['fails', 'exit 21', 'failed with code 21 without writing one'],
  ['is killed', 'kill -9 $$', 'failed with SIGKILL without writing one'],
  ['writes what is no PDF', 'echo no > "$pdf"', 'ended without writing one'],
])('a browser that %s is named, and nothing of it is left', async (_what, does, why) => {
  const { home, temp, browser } = await browserThat(does);
  expect(await htmlToPdf('<p>chart', [temp, home])).toEqual({
    ok: false,
    why: `the browser ${browser} ${why}`,
  });
  expect(await readdir(temp)).toEqual([]);
  expect(await readdir(home)).toEqual(['browser.sh']);
});

test('a page that the browser could not read is not taken for the document', async () => {
  const { temp, browser } = await browserThat('printf "%%PDF-1.4" > "$pdf"');
  expect(await htmlToPdf('<p>chart', [temp])).toEqual({
    ok: false,
    why: `the browser ${browser} cannot reach this machine's own address`,
  });
});

test('what stands in a document runs no script, reads no file and reaches no address', async () => {
  const folder = await tempFolder();
  const file = join(folder, 'chart.pdf');
  await writeFile(join(folder, 'secret.txt'), 'SECRET');
  const asked: string[] = [];
  const elsewhere = await serveHere((pathname) => {
    asked.push(pathname);
    return Promise.resolve({ status: 200, headers: {}, body: '' });
  });
  const html = `<!doctype html><p id="p">as written</p><img src="${elsewhere.url}a.png">
    <iframe src="file://${folder}/secret.txt"></iframe><object data="file://${folder}/secret.txt"></object>
    <link rel="stylesheet" href="${elsewhere.url}a.css"><meta http-equiv="refresh" content="0;url=${elsewhere.url}b">
    <script>document.getElementById('p').textContent = 'changed'</script>`;
  const pdf = await htmlToPdf(html).finally(() => elsewhere.close());
  if (!pdf.ok) throw new Error(pdf.why);
  await writeFile(file, pdf.bytes);
  const text = execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' });
  expect(text).toContain('as written');
  expect(text).not.toContain('SECRET');
  expect(asked).toEqual([]);
});

test('a browser from a confined package prints in the home folder', async () => {
  const { home, temp } = await browserThat(
    `case $pdf in "$HOME"/*) ${readPage}; printf "%%PDF-1.4" > "$pdf";; *) exit 0;; esac`,
  );
  const pdf = await htmlToPdf('<p>chart', [temp, home]);
  expect(pdf.ok && Buffer.from(pdf.bytes).toString()).toBe('%PDF-1.4');
  expect(await readdir(temp)).toEqual([]);
  expect(await readdir(home)).toEqual(['browser.sh']);
});

test('a file that is no program, and a temporary folder that is none, are named', async () => {
  const { home, temp } = await browserThat('exit 0');
  vi.stubEnv('EVENRACK_BROWSER', home);
  expect(await htmlToPdf('<p>chart', [temp])).toMatchObject({
    ok: false,
    why: expect.stringContaining('could not be started (this account may not use it)') as string,
  });
  expect(await htmlToPdf('<p>chart', [join(temp, 'none')])).toMatchObject({
    ok: false,
    why: `the folder ${join(temp, 'none')} cannot be used, there is no such file or folder`,
  });
});
