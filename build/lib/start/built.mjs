// The built app, for the commands that show or package it.
import { accessSync, constants, existsSync } from 'node:fs';
import { join } from 'node:path';
import { buildElectron, buildRenderer } from '../app.mjs';
import { isBuilt } from '../fresh.mjs';
import { out, root } from '../run.mjs';

const unwritable = {
  EROFS: 'the disk is read-only',
  EACCES: 'this account may not write there',
  EPERM: 'this account may not write there',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
};

/**
 * Builds the app where its sources are younger. Where nothing can be written, an older build does.
 * @returns {Promise<string | null>} why there is none, in a sentence; null: it is there
 */
export async function needBuilt({
  fresh = isBuilt,
  build = buildBoth,
  hasOld = () => existsSync(join(out, 'renderer', 'index.html')),
  say = (words) => console.log(words),
} = {}) {
  if (fresh()) return null;
  say('Building the app, which takes some seconds.');
  try {
    await build();
    return null;
  } catch (error) {
    const why = unwritable[error.code];
    // A broken source is told with its place, by who builds.
    if (!why) return `Evenrack cannot be built: ${error.message}`;
    if (!hasOld()) return `Evenrack cannot be built in ${root}: ${why}.`;
    say(`It cannot be built anew (${why}): an older build of it opens.`);
    return null;
  }
}

async function buildBoth() {
  // Asked before: the builder says more lines of it than anybody needs.
  accessSync(existsSync(out) ? out : root, constants.W_OK);
  await buildRenderer();
  await buildElectron();
}
