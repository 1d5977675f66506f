import { readFileSync, writeFileSync } from 'node:fs';
import { unlessTroubleNow } from './files/fileTrouble';

/**
 * Whether Evenrack does without the graphics processor: under this version its driver kept failing.
 * Kept in a file, because it counts before the next start has drawn anything; a new version tries
 * again.
 */
export class Graphics {
  constructor(
    private readonly file: string,
    private readonly version: string,
  ) {}

  get isOff(): boolean {
    return unlessTroubleNow(() => readFileSync(this.file, 'utf8')) === this.version;
  }

  /** At once: the process may be about to end. Where it cannot be kept, the next start tries again. */
  turnOff(): void {
    unlessTroubleNow(() => writeFileSync(this.file, this.version));
  }
}
