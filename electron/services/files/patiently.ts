const PATIENCE_MS = 4000;
const LONGEST_PAUSE_MS = 400;

const pause = (ms: number): Promise<void> => new Promise((resolve) => void setTimeout(resolve, ms));

export interface PatienceNeeds {
  readonly pause: (ms: number) => Promise<unknown>;
  readonly platform: NodeJS.Platform;
}

/**
 * Does something with a file that a scanner, an indexer or a cloud folder may hold just now. Windows
 * says so by one of `codes`: it is tried again for some seconds. Elsewhere, and after that, the
 * system's error is thrown.
 */
export async function patiently<T>(
  codes: readonly string[],
  work: () => Promise<T>,
  needs: PatienceNeeds = { pause, platform: process.platform },
): Promise<T> {
  let waited = 0;
  for (let wait = 10; ; wait = Math.min(2 * wait, LONGEST_PAUSE_MS)) {
    try {
      return await work();
    } catch (error) {
      const { code = '' } = error as NodeJS.ErrnoException;
      const again = needs.platform === 'win32' && codes.includes(code);
      if (!again || waited >= PATIENCE_MS) throw error;
    }
    await needs.pause(wait);
    waited += wait;
  }
}
