/** What went wrong, in the browser's own store of this page; nothing of it is sent. */
const KEY = 'evenrack-errors';
/** In characters; the oldest lines go first. */
const LIMIT = 60_000;
const LONGEST = 4000;

export class BrowserErrors {
  #last = '';

  constructor(private readonly window: Pick<Window, 'localStorage'>) {}

  /** What comes again and again is written once. */
  note(details: string): void {
    const words = details.trim().slice(0, LONGEST);
    if (words === '' || words === this.#last) return;
    this.#last = words;
    const entry = `${new Date().toISOString()} ${words.replaceAll('\n', '\n    ')}\n`;
    const text = (this.text() + entry).slice(-LIMIT);
    this.use((storage) => storage.setItem(KEY, text));
  }

  text(): string {
    return this.use((storage) => storage.getItem(KEY)) ?? '';
  }

  /** A browser may refuse to keep anything, or has no room left: then nothing is kept. */
  private use<T>(work: (storage: Storage) => T): T | null {
    try {
      return work(this.window.localStorage);
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      return null;
    }
  }
}
