import type { WindowSessionEndEvent } from 'electron';

/** What a window that closes needs of its surroundings. */
export interface ClosingNeeds {
  /** Asks the window to keep what is unsaved; its answer comes by `workKept`. False: it cannot hear. */
  keepNow(): boolean;
  /** Whether the person gives up the changes that no file holds. */
  mayLoseChanges(): Promise<boolean>;
  /** Whether the person closes a window that does not say whether it has kept its work. */
  mayLeaveUnheard(): Promise<boolean>;
  /** Runs after a time; gives the end of it. */
  after(ms: number, run: () => void): () => void;
  close(): void;
  /** Ends a window whose page says nothing: it may hold up the closing, too. */
  destroy(): void;
  quit(): void;
}

/** As Windows tells it; one that is critical waits for nobody. */
type SessionEnd = Pick<WindowSessionEndEvent, 'preventDefault' | 'reasons'>;

/** A window that is asked to keep its work and says nothing for this long is not waited for. */
const PATIENCE_MS = 2000;

/** What became of the wish that work be kept: done, no answer in time, or no page to ask. */
type Heard = 'kept' | 'silent' | 'gone';

/** Electron ends its own part of an event only after ours: a quit within it would come to nothing. */
const nextTurn = (): Promise<void> => new Promise((resolve) => void setImmediate(resolve));

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
  #ending = false;
  /** Those who wait for the page's word, in the order in which they asked for it. */
  readonly #waiting: ((heard: Heard) => void)[] = [];

  constructor(private readonly needs: ClosingNeeds) {}

  setUnsaved(unsaved: boolean): void {
    this.#unsaved = unsaved;
  }

  /** The window is being closed, and what is to be asked about that is asked. */
  get isLeaving(): boolean {
    return this.#leaving;
  }

  /** The window has answered a `keepNow`, the one that it was asked first. */
  workKept(): void {
    this.#waiting.shift()?.('kept');
  }

  /** The page has gone: who waits for its word waits in vain. */
  pageGone(): void {
    for (const end of this.#waiting.splice(0)) end('gone');
  }

  /** The computer sleeps, or may be about to end: what is unsaved is kept, and nothing else happens. */
  keepNow(): void {
    void this.#keep();
  }

  /** The whole program is asked to end: once the window may go, so may the program. */
  beginQuit(): void {
    this.#quitting = true;
  }

  /**
   * Windows asks whether its session may end. Where no file holds the changes it waits until a copy is
   * kept, and the program ends of itself, so that it holds up nobody.
   */
  onSessionEnd(event: SessionEnd): void {
    if (!this.#unsaved || event.reasons.includes('critical')) {
      this.keepNow();
      return;
    }
    event.preventDefault();
    void this.endWithoutAsking();
  }

  /** The computer ends: what is unsaved is kept, and nobody is asked. */
  async endWithoutAsking(): Promise<void> {
    if (this.#ending) return;
    this.#ending = true;
    const heard = await this.#keep();
    await nextTurn();
    this.#may = true;
    if (heard !== 'kept') this.needs.destroy();
    this.needs.quit();
  }

  /** The window is asked to close. */
  onClose(event: { preventDefault(): void }): void {
    if (this.#may) return;
    event.preventDefault();
    // The end of the computer has been heard of first: it closes the window, too.
    if (this.#leaving || this.#ending) return;
    this.#leaving = true;
    void this.#leave().finally(() => (this.#leaving = false));
  }

  /** The window has gone; another may come. */
  onClosed(): void {
    this.#unsaved = false;
    this.#may = false;
    this.pageGone();
  }

  async #leave(): Promise<void> {
    const heard = await this.#keep();
    if (!(await this.#mayLeave(heard))) {
      this.#quitting = false;
      return;
    }
    await nextTurn();
    this.#may = true;
    const quits = this.#quitting;
    if (heard !== 'kept') this.needs.destroy();
    else if (!quits) this.needs.close();
    // Preventing the close has ended the quitting too: it is begun again.
    if (quits) this.needs.quit();
  }

  async #mayLeave(heard: Heard): Promise<boolean> {
    if (this.#ending) return true;
    if (heard === 'silent') return this.needs.mayLeaveUnheard();
    return !this.#unsaved || this.needs.mayLoseChanges();
  }

  /** Its place in the row stays where the page is silent: its answer may come late. */
  #keep(): Promise<Heard> {
    return new Promise((resolve) => {
      const stop = this.needs.after(PATIENCE_MS, () => resolve('silent'));
      const end = (heard: Heard): void => {
        stop();
        resolve(heard);
      };
      this.#waiting.push(end);
      if (this.needs.keepNow()) return;
      this.#waiting.splice(this.#waiting.indexOf(end), 1);
      end('gone');
    });
  }
}
