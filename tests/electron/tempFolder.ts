import { mkdtemp, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A real folder on disk by its real path, removed after the test that asks for it. */
export async function tempFolder(): Promise<string> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'evenrack-test-')));
  // Not by a hook of this file: files that share their modules would have it once for all of them.
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
}
