import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Keeps what the system asks for until the window listens; then passes it on at once. */
export class OpenRequests {
  private waiting: string[] = [];
  private deliver: ((path: string) => void) | null = null;

  /** Whether a page is there that listens. */
  get isHeard(): boolean {
    return this.deliver !== null;
  }

  ask(path: string): void {
    if (this.deliver) this.deliver(path);
    else this.waiting.push(path);
  }

  /** The window listens from now on. */
  listen(deliver: (path: string) => void): void {
    this.deliver = deliver;
    for (const path of this.waiting.splice(0)) deliver(path);
  }

  /** The window has been closed or loads anew. */
  pause(): void {
    this.deliver = null;
  }
}

/**
 * The plan named on a command line, if any, as a path from `folder`; switches and the program's own
 * folder are not plans. Desktops of Linux name a file by its address.
 */
export function planOnCommandLine(argv: readonly string[], folder: string): string | null {
  const word = argv
    .slice(1)
    .findLast((one) => /\.(evenrack|json)$/i.test(one) && !one.startsWith('-'));
  if (word === undefined) return null;
  if (!/^file:/i.test(word)) return resolve(folder, word);
  try {
    return fileURLToPath(word);
  } catch (error) {
    // An address of another computer's file, or none at all.
    if (!(error instanceof TypeError)) throw error;
    return null;
  }
}

/** The example that a command line asks for by `--example=NAME`, as a part of the page's address. */
export function exampleOnCommandLine(argv: readonly string[]): string {
  const name = argv.map((word) => /^--example=([a-z-]+)$/.exec(word)?.[1]).find(Boolean);
  return name === undefined ? '' : `#example=${name}`;
}
