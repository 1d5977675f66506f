import { appendFileSync, readFileSync, renameSync, statSync } from 'node:fs';
import { unlessTroubleNow } from './files/fileTrouble';

/** The log and the one before it together hold at most twice this. */
const LIMIT_BYTES = 128_000;
/** Of one entry, in characters: the first lines of a trace say most. */
const LONGEST = 4000;

/**
 * What went wrong, by time, in a file on this computer; nothing of it is sent. A log that is full
 * takes the place of the one before it. Written at once, because the process may be about to end;
 * where it cannot be written, that is no further trouble.
 */
export class ErrorLog {
  #last = '';

  constructor(
    readonly file: string,
    private readonly now: () => Date,
    private readonly limitBytes = LIMIT_BYTES,
  ) {}

  get former(): string {
    return `${this.file}.1`;
  }

  /** What comes again and again is written once. */
  note(details: string): void {
    const words = details.trim().slice(0, LONGEST);
    if (words === '' || words === this.#last) return;
    this.#last = words;
    const entry = `${this.now().toISOString()} ${words.replaceAll('\n', '\n    ')}\n`;
    unlessTroubleNow(() => {
      if (sizeOf(this.file) + Buffer.byteLength(entry) > this.limitBytes) {
        renameSync(this.file, this.former);
      }
    });
    unlessTroubleNow(() => appendFileSync(this.file, entry));
  }

  /** All that is kept, the oldest first; empty where nothing went wrong yet. */
  text(): string {
    return [this.former, this.file]
      .map((file) => unlessTroubleNow(() => readFileSync(file, 'utf8')) ?? '')
      .join('');
  }
}

function sizeOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
}
