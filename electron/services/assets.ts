// As a whole, not by names: Electron puts functions of its own in it, which read its archive.
import files from 'node:fs/promises';
import { extname, join, sep } from 'node:path';
import { isFileTrouble } from './files/fileTrouble';
import { keptApart, contentPolicy } from './policies';

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.txt': 'text/plain; charset=utf-8',
  '.csv': 'text/csv; charset=utf-8',
};

export interface Asset {
  readonly status: number;
  readonly headers: Record<string, string>;
  readonly body: Uint8Array<ArrayBuffer> | string;
}

/**
 * A file of the built renderer by the path of its address. Whatever the path says, nothing outside
 * `folder` is read.
 */
export async function asset(folder: string, pathname: string): Promise<Asset> {
  let wanted: string;
  try {
    wanted = decodeURIComponent(pathname);
  } catch (error) {
    if (!(error instanceof URIError)) throw error;
    return refused(400, 'not an address');
  }
  if (wanted.includes('\0') || wanted.includes('\\')) return refused(400, 'not an address');
  if (wanted.endsWith('/')) wanted += 'index.html';
  try {
    const base = await files.realpath(folder);
    const file = await files.realpath(join(base, wanted));
    if (!file.startsWith(base + sep)) return refused(403, 'outside the app');
    const body = await files.readFile(file);
    return {
      status: 200,
      headers: {
        'content-type': types[extname(file)] ?? 'application/octet-stream',
        'content-security-policy': contentPolicy,
        ...keptApart,
        // The names of built assets hold a hash of what is in them: kept with its compiled code, a
        // script starts in half the time.
        'cache-control': wanted.startsWith('/assets/') ? 'max-age=31536000, immutable' : 'no-cache',
      },
      body: new Uint8Array(body),
    };
  } catch (error) {
    if (!isFileTrouble(error)) throw error;
    return refused(404, 'no such file');
  }
}

function refused(status: number, body: string): Asset {
  return { status, headers: { 'content-type': 'text/plain; charset=utf-8', ...keptApart }, body };
}
