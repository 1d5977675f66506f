import type { ChildProcessGoneDetails, GoneReason } from './runtime';

/** What can be done about a window in trouble. */
export interface TroubleNeeds {
  note(details: string): void;
  /** Asks in a window of the system; gives the number of the answer, or null where `end` came first. */
  ask(question: TroubleQuestion, end?: AbortSignal): Promise<number | null>;
  /** Shows the window, where it waits for its first page. */
  show(): void;
  load(): void;
  /** Ends the page's process at once, whatever it does. */
  kill(): void;
  quit(): void;
  now(): number;
  readonly graphics: { readonly isOff: boolean; turnOff(): void };
}

export interface TroubleQuestion {
  readonly message: string;
  readonly detail: string;
  readonly answers: readonly [string, string];
}

const kept =
  'Every edit up to two seconds before is kept. It is offered when the window opens again.';
const again = 'Open it again';
const quit = 'Quit';

/** Why a process has gone, as a part of a sentence. */
export const goneReasons: Record<GoneReason, string> = {
  'clean-exit': 'it ended by itself',
  'abnormal-exit': 'it ended in an error',
  killed: 'the system or a person ended it',
  crashed: 'it crashed',
  oom: 'there was not enough memory',
  'launch-failed': 'it could not be started',
  'integrity-failure': 'its files have been changed',
  'memory-eviction': 'the system needed its memory',
};

/** A process that is killed is told as gone within this time; later it has gone by itself. */
const KILLED_WITHIN_MS = 5000;

/** Going wrong this often within the time, opening it again is no way out. */
const often = { times: 3, withinMs: 60_000 };

/** The window's page in trouble: each case is told, and what can be done about it. */
export class Troubles {
  readonly #gone: number[] = [];
  readonly #gpu: number[] = [];
  #waiting: AbortController | null = null;
  /** Until when the end of the page's process is our own doing. */
  #expectedUntil = -Infinity;

  constructor(private readonly needs: TroubleNeeds) {}

  async pageGone({ reason, exitCode }: { reason: GoneReason; exitCode: number }): Promise<void> {
    this.#waiting?.abort();
    const isExpected = this.needs.now() < this.#expectedUntil;
    this.#expectedUntil = -Infinity;
    if (isExpected) return;
    this.needs.note(`window gone: ${reason}, code ${exitCode}`);
    const hopeless = this.#isOften(this.#gone);
    // Nothing went wrong, but the window is empty.
    if (reason === 'clean-exit' && !hopeless) {
      this.needs.load();
      return;
    }
    await this.#tell({
      message: 'The window has stopped working.',
      detail: `Why: ${goneReasons[reason]}. ${kept}${hopeless ? ' It has happened several times now: if it comes with one plan, leave its copy where it is and open another; else restart the computer, or install Evenrack again.' : ''}`,
      answers: [again, quit],
    });
  }

  async unresponsive(): Promise<void> {
    if (this.#waiting) return;
    const waiting = new AbortController();
    this.#waiting = waiting;
    this.needs.note('window does not answer');
    const question = {
      message: 'The window does not answer.',
      detail: `It may be busy. ${kept}`,
      answers: ['Wait', 'Open it again now'],
    } as const;
    const answer = await this.needs.ask(question, waiting.signal);
    this.#waiting = null;
    if (answer !== 1 || waiting.signal.aborted) return;
    this.#expectedUntil = this.needs.now() + KILLED_WITHIN_MS;
    this.needs.kill();
    this.needs.load();
  }

  responsive(): void {
    this.#waiting?.abort();
  }

  /** `code` is Chromium's; −3: another loading took its place. */
  async loadFailed(code: number, description: string): Promise<void> {
    if (code === -3) return;
    this.needs.note(`page not loaded: ${description} (${code})`);
    await this.#tell({
      message: 'The window cannot show its page.',
      detail: `Why: ${description || `code ${code}`}. If it stays so, install Evenrack again. ${kept}`,
      answers: ['Try again', quit],
    });
  }

  /** Without its preload the page would take itself for one in a browser. */
  async bridgeFailed(error: Error): Promise<void> {
    this.needs.note(`preload: ${error.stack ?? error.message}`);
    await this.#tell({
      message: 'The window cannot reach your files.',
      detail: `Why: ${error.message}. Install Evenrack again. ${kept}`,
      answers: ['Try again', quit],
    });
  }

  /** A helper of Chromium's, which starts it again by itself. */
  async helperGone({ type, reason, exitCode, name }: ChildProcessGoneDetails): Promise<void> {
    if (reason === 'clean-exit') return;
    this.needs.note(`helper gone: ${type} ${name ?? ''} ${reason}, code ${exitCode}`);
    if (type !== 'GPU') return;
    const often = this.#isOften(this.#gpu);
    const { isOff } = this.needs.graphics;
    // At once: Chromium ends the whole program where no way of drawing is left.
    if (often || reason === 'launch-failed') {
      this.needs.graphics.turnOff();
      this.needs.note('graphics: from the next start on the driver is done without');
    }
    if (!often) return;
    this.#gpu.length = 0;
    const way = isOff
      ? 'Restart the computer, or look for a newer driver.'
      : 'Quit and start Evenrack again: it does without the driver from then on.';
    const answer = await this.needs.ask({
      message: 'The graphics driver keeps failing.',
      detail: `Drawing may be slow or broken. ${way} ${kept}`,
      answers: ['Go on', quit],
    });
    if (answer === 1) this.needs.quit();
  }

  /** A mistake of the program's outside the window. */
  async fault(error: unknown): Promise<void> {
    const details = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.needs.note(`shell: ${details}`);
    if (this.#isOften(this.#faults, 2)) return;
    const answer = await this.needs.ask({
      message: 'Evenrack has met an error of its own.',
      detail: `${error instanceof Error ? error.message : String(error)}. Your plan is still open: save it under another name. Help, About shows the details.`,
      answers: ['Go on', quit],
    });
    if (answer === 1) this.needs.quit();
  }
  readonly #faults: number[] = [];

  async #tell(question: TroubleQuestion): Promise<void> {
    this.needs.show();
    if ((await this.needs.ask(question)) === 0) this.needs.load();
    else this.needs.quit();
  }

  #isOften(times: number[], most = often.times): boolean {
    const now = this.needs.now();
    times.push(now);
    while ((times[0] ?? now) < now - often.withinMs) times.shift();
    return times.length >= most;
  }
}
