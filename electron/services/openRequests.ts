/** Keeps what the system asks for until the window listens; then passes it on at once. */
export class OpenRequests {
  private waiting: string[] = [];
  private deliver: ((path: string) => void) | null = null;

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

/** The plan named on a command line, if any; switches and the program's own folder are not plans. */
export function planOnCommandLine(argv: readonly string[]): string | null {
  return (
    argv.slice(1).findLast((word) => /\.(evenrack|json)$/i.test(word) && !word.startsWith('-')) ??
    null
  );
}

/** The example that a command line asks for by `--example=NAME`, as a part of the page's address. */
export function exampleOnCommandLine(argv: readonly string[]): string {
  const name = argv.map((word) => /^--example=([a-z-]+)$/.exec(word)?.[1]).find(Boolean);
  return name === undefined ? '' : `#example=${name}`;
}
