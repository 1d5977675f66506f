import { spawn, type ChildProcess } from 'node:child_process';
import { rmSync } from 'node:fs';
import { randomUUID } from 'node:crypto';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { findBrowser, quietFlags, sandboxFlags } from '../browser.mjs';
import { serveHere, type Served } from '../loopback';
import { printHeaders } from '../services/policies';
import {
  fileTrouble,
  isFileTrouble,
  troubleWith,
  unlessTrouble,
} from '../services/files/fileTrouble';
import { orUndo } from '../services/files/leftovers';

/** A PDF, or why there is none, as the end of a sentence that begins with "no PDF". */
export type Pdf = { ok: true; bytes: Uint8Array } | { ok: false; why: string };

const timeoutMs = 120_000;

/**
 * Prints a whole HTML document to PDF by an installed Chromium-family browser; the page size is the
 * document's own `@page` size. It is served from memory to this machine alone, under the policy of
 * printed documents, so that nothing in it runs, loads or reads a file. A browser from a confined package sees no temporary folder but may
 * see the person's own, so that is tried too.
 */
export async function htmlToPdf(
  html: string,
  places: readonly string[] = [tmpdir(), homedir()],
): Promise<Pdf> {
  const browser = findBrowser();
  if (browser === null) return { ok: false, why: 'no Chromium-family browser is installed' };
  const page = await servePage(html);
  try {
    let why = '';
    for (const place of new Set(places)) {
      const printed = await printIn(place, browser, page).catch((error: unknown) => ({
        ok: false as const,
        why: troubleWith(`the folder ${place} cannot be used, `, error).message,
      }));
      if (printed.ok) return printed;
      why ||= printed.why;
    }
    return { ok: false, why };
  } finally {
    await page.close();
  }
}

interface ServedPage extends Served {
  /** How often it was read. */
  reads(): number;
}

async function servePage(html: string): Promise<ServedPage> {
  const path = `/${randomUUID()}`;
  let reads = 0;
  const served = await serveHere((pathname) => {
    if (pathname !== path) return Promise.resolve({ status: 404, headers: {}, body: '' });
    reads += 1;
    return Promise.resolve({ status: 200, headers: printHeaders, body: html });
  });
  return { ...served, url: new URL(path, served.url).href, reads: () => reads };
}

async function printIn(place: string, browser: string, page: ServedPage): Promise<Pdf> {
  const readBefore = page.reads();
  const folder = await mkdtemp(join(place, 'evenrack-pdf-'));
  try {
    const pdf = join(folder, 'page.pdf');
    const flags = [
      '--headless',
      ...sandboxFlags(),
      ...quietFlags,
      `--user-data-dir=${join(folder, 'profile')}`,
      '--no-pdf-header-footer',
      '--generate-pdf-document-outline',
      `--print-to-pdf=${pdf}`,
      page.url,
    ];
    const ended = await runToEnd(browser, flags, () =>
      rmSync(folder, { recursive: true, force: true, maxRetries: 3 }),
    );
    const bytes = (await unlessTrouble(() => readFile(pdf))) ?? new Uint8Array();
    if (!isPdf(bytes))
      return { ok: false, why: `the browser ${browser} ${ended} without writing one` };
    if (page.reads() > readBefore) return { ok: true, bytes };
    // It prints a page of its own about what is wrong.
    return { ok: false, why: `the browser ${browser} cannot reach this machine's own address` };
  } finally {
    await unlessTrouble(() => rm(folder, { recursive: true, force: true, maxRetries: 3 }));
  }
}

/** Runs the browser until it ends or its time is up; gives how it ended, in words. */
function runToEnd(browser: string, flags: readonly string[], tidy: () => void): Promise<string> {
  // A group of its own, because the browser starts helpers that have to end with it.
  const ownGroup = process.platform !== 'win32';
  let child: ChildProcess | null = null;
  const kill = (): void => {
    try {
      if (ownGroup && child?.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
      else child?.kill('SIGKILL');
    } catch (error) {
      // It may have ended by itself.
      if (!isFileTrouble(error)) throw error;
    }
  };
  return orUndo(
    () => {
      kill();
      tidy();
    },
    // Started only once a signal would undo it.
    () =>
      new Promise<string>((resolve) => {
        const late = setTimeout(() => {
          kill();
          resolve(`did not end in ${timeoutMs / 1000} s and was stopped`);
        }, timeoutMs);
        child = spawn(browser, flags, { stdio: 'ignore', detached: ownGroup });
        child.once('error', (error) => {
          clearTimeout(late);
          resolve(`could not be started (${fileTrouble(error)})`);
        });
        child.once('exit', (code, signal) => {
          clearTimeout(late);
          resolve(code === 0 ? 'ended' : `failed with ${signal ?? `code ${code}`}`);
        });
      }),
  );
}

/** ISO 32000-2, 7.5.2: a PDF begins with these five bytes. */
function isPdf(bytes: Uint8Array): boolean {
  return Buffer.from(bytes.subarray(0, 5)).toString('latin1') === '%PDF-';
}
