import { rename } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';

/** By these Windows says that a scanner, an indexer or a cloud folder holds a file just now. */
const held = ['EPERM', 'EACCES', 'EBUSY'];
const PATIENCE_MS = 4000;
const LONGEST_PAUSE_MS = 400;

export interface RenameNeeds {
  readonly rename: (from: string, to: string) => Promise<void>;
  readonly pause: (ms: number) => Promise<unknown>;
  readonly platform: NodeJS.Platform;
}

/**
 * Renames a file over another. On Windows one that is held for a moment is tried again for some
 * seconds; elsewhere, and after that, the system's error is thrown.
 */
export async function renameOver(
  from: string,
  to: string,
  needs: RenameNeeds = { rename, pause, platform: process.platform },
): Promise<void> {
  let waited = 0;
  for (let wait = 10; ; wait = Math.min(2 * wait, LONGEST_PAUSE_MS)) {
    try {
      await needs.rename(from, to);
      return;
    } catch (error) {
      const { code = '' } = error as NodeJS.ErrnoException;
      const again = needs.platform === 'win32' && held.includes(code);
      if (!again || waited >= PATIENCE_MS) throw error;
    }
    await needs.pause(wait);
    waited += wait;
  }
}
