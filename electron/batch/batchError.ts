import { Refusal } from '../../renderer/words';
import { isFileTrouble, troubleInWords } from '../services/files/fileTrouble';

/** Bad input to a verb: one line on standard error, exit code 2. */
export class BatchError extends Error {
  /** `where`: file, option or path inside a file; `found` and `expected` in words. */
  constructor(where: string, found: string, expected: string) {
    super(`${where}: ${found}; ${expected}`);
    this.name = 'BatchError';
  }
}

/**
 * Whether the input or a file is at fault. Any other error is a mistake in the program and keeps its
 * trace.
 */
export function isBadInput(error: unknown): error is Error {
  return error instanceof BatchError || error instanceof Refusal || isFileTrouble(error);
}

/** What went wrong, on one line. */
export function sayError(error: unknown): string {
  return troubleInWords(error)
    .replace(/\s*\n\s*/g, ' ')
    .trim();
}
