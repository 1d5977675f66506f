import { proxy, wrap, type Remote } from 'comlink';
import { resultOf, type JobResult, type StartJob } from '../../derive';
import { spokenLocale } from '../../words';
import type { RunJob } from './worker';

interface Hand {
  readonly worker: Worker;
  readonly run: Remote<RunJob>;
}

/**
 * Starts jobs, each in a worker of its own, so that ending the worker ends the job at once. One that
 * has done its job is kept for the next: with its code compiled it needs half the time.
 */
export function jobStarter(makeWorker: () => Worker): StartJob {
  let idle: Hand | null = null;
  return (name, input, tell) => {
    const hand = idle ?? handOf(makeWorker());
    idle = null;
    let running = true;
    const end = () => {
      if (running) hand.worker.terminate();
      running = false;
    };
    const broken = new Promise<never>((_resolve, reject) => {
      hand.worker.addEventListener('error', ({ message }) =>
        reject(new Error(`worker: ${message}`)),
      );
    });
    const answer = Promise.race([hand.run(name, input, spokenLocale(), proxy(tell)), broken]);
    answer.then(() => {
      if (!running) return;
      if (idle) return end();
      running = false;
      idle = hand;
    }, end);
    const result = answer.then(resultOf) as Promise<JobResult<typeof name>>;
    return { result, cancel: end };
  };
}

const handOf = (worker: Worker): Hand => ({ worker, run: wrap<RunJob>(worker) });

export const startOne = jobStarter(
  () => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }),
);
