/** What a window that closes needs of its surroundings. */
export interface ClosingNeeds {
  /** Asks the window to keep what is unsaved; its answer comes by `workKept`. False: it cannot hear. */
  keepNow(): boolean;
  /** Whether the person gives up the changes that no file holds. */
  mayLoseChanges(): Promise<boolean>;
  /** Runs after a time; gives the end of it. */
  after(ms: number, run: () => void): () => void;
  close(): void;
  quit(): void;
}

/** A window that is asked to keep its work and says nothing for this long is not waited for. */
const PATIENCE_MS = 2000;

/**
 * Lets the window go in three steps: it keeps what is unsaved, the person is asked where no file holds
 * it, and only then it closes. An edit of the last moment has reached us by then, whatever messages
 * were still under way.
 */
export class Closing {
  #unsaved = false;
  #quitting = false;
  #may = false;
  #leaving = false;
  #kept: (() => void) | null = null;

  constructor(private readonly needs: ClosingNeeds) {}

  setUnsaved(unsaved: boolean): void {
    this.#unsaved = unsaved;
  }

  /** The window has answered `keepNow`. */
  workKept(): void {
    this.#kept?.();
  }

  /** The whole program is asked to end: once the window may go, so may the program. */
  beginQuit(): void {
    this.#quitting = true;
  }

  /** The computer ends: what is unsaved is kept, and nobody is asked. */
  async endWithoutAsking(): Promise<void> {
    await this.#keep();
    this.#may = true;
    this.needs.quit();
  }

  /** The window is asked to close. */
  onClose(event: { preventDefault(): void }): void {
    if (this.#may) return;
    event.preventDefault();
    if (this.#leaving) return;
    this.#leaving = true;
    void this.#leave().finally(() => (this.#leaving = false));
  }

  /** The window has gone; another may come. */
  onClosed(): void {
    this.#unsaved = false;
    this.#may = false;
    this.#kept?.();
  }

  async #leave(): Promise<void> {
    await this.#keep();
    if (this.#unsaved && !(await this.needs.mayLoseChanges())) {
      this.#quitting = false;
      return;
    }
    this.#may = true;
    // Preventing the close has ended the quitting too: it is begun again.
    if (this.#quitting) this.needs.quit();
    else this.needs.close();
  }

  #keep(): Promise<void> {
    return new Promise((resolve) => {
      const end = (): void => {
        stop();
        this.#kept = null;
        resolve();
      };
      const stop = this.needs.after(PATIENCE_MS, end);
      this.#kept = end;
      if (!this.needs.keepNow()) end();
    });
  }
}
