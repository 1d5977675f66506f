import { proxy, wrap } from 'comlink';
import type { JobResult, StartJob } from '../derive';
import type { RunJob } from './worker';
import { resultOf } from './jobAnswer';

/** Each job has a worker of its own, so that ending the worker ends the job at once. */
export const startJob: StartJob = (name, input, tell) => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_resolve, reject) => {
    worker.addEventListener('error', ({ message }) => reject(new Error(`worker: ${message}`)));
  });
  const answer = Promise.race([wrap<RunJob>(worker)(name, input, proxy(tell)), broken]);
  const result = answer.then(resultOf) as Promise<JobResult<typeof name>>;
  const end = () => worker.terminate();
  result.then(end, end);
  return { result, cancel: end };
};
