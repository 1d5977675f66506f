/** Bad input to a verb: one line on standard error, exit code 2. */
export class BatchError extends Error {
  /** `where`: file, option or path inside a file; `found` and `expected` in words. */
  constructor(where: string, found: string, expected: string) {
    super(`${where}: ${found}; ${expected}`);
    this.name = 'BatchError';
  }
}
