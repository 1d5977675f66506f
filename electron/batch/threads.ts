import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import {
  inCostlyParts,
  resultOf,
  startHere,
  type JobAnswer,
  type JobResult,
  type StartJob,
} from '../../renderer/derive';
import type { ThreadAsked } from './worker';

/** The code of `worker.ts` as one CommonJS text; made only once long work asks for it. */
export type WorkerCode = () => Promise<string>;

/**
 * Starts jobs on all processors: what falls into parts in threads, all else here. A thread that
 * cannot be started leaves its part to this one. Threads end with the process, however it ends.
 */
export function onAllProcessors(code: WorkerCode, hands = availableParallelism()): StartJob {
  return hands < 2 ? startHere : inCostlyParts(inThreads(code), hands, startHere);
}

function inThreads(code: WorkerCode): StartJob {
  let text: Promise<string> | null = null;
  const idle: Worker[] = [];
  const free = async (): Promise<Worker | null> => {
    const before = idle.pop();
    if (before) return before;
    text ??= code();
    // oxlint-disable-next-line own/no-deaf-catch -- whatever hinders a thread, this one does its part
    return readyThread(await text.catch(() => null));
  };
  return (name, input, tell) => {
    let thread: Worker | null = null;
    let cancelled = false;
    const work = async (): Promise<JobResult<typeof name>> => {
      thread = await free();
      // What was ended never answers.
      if (cancelled) return new Promise<never>(() => undefined);
      if (!thread) return startHere(name, input, tell).result;
      const answer = await answerOf(thread, { name, input });
      thread.unref();
      idle.push(thread);
      return resultOf(answer) as JobResult<typeof name>;
    };
    const cancel = () => {
      cancelled = true;
      void thread?.terminate();
    };
    return { result: work(), cancel };
  };
}

/** A thread that has loaded its code; null where there can be none. */
function readyThread(code: string | null): Promise<Worker | null> {
  return new Promise((resolve) => {
    if (code === null) return resolve(null);
    try {
      const thread = new Worker(code, { eval: true });
      thread.once('message', () => resolve(thread));
      thread.once('error', () => resolve(null));
      thread.once('exit', () => resolve(null));
      // oxlint-disable-next-line own/no-bare-catch -- whatever hinders a thread, this one does its part
    } catch {
      resolve(null);
    }
  });
}

function answerOf(thread: Worker, asked: ThreadAsked): Promise<JobAnswer> {
  return new Promise((resolve, reject) => {
    thread.ref();
    const ended = (code: number) => reject(new Error(`a thread ended with code ${code}`));
    thread.once('message', (answer: JobAnswer) => {
      thread.off('error', reject);
      thread.off('exit', ended);
      resolve(answer);
    });
    thread.once('error', reject);
    thread.once('exit', ended);
    thread.postMessage(asked);
  });
}
