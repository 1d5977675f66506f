import { proxy, wrap } from 'comlink';
import type { JobResult, StartJob } from '../derive';
import type { RunJob } from './worker';

/** Each job has a worker of its own, so that ending the worker ends the job at once. */
export const startJob: StartJob = (name, input, tell) => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  const result = wrap<RunJob>(worker)(name, input, proxy(tell)) as Promise<JobResult<typeof name>>;
  const end = () => worker.terminate();
  result.then(end, end);
  return { result, cancel: end };
};
