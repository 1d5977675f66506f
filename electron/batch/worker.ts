import { parentPort } from 'node:worker_threads';
import { doJob, type JobInput, type JobName } from '../../renderer/derive';
import { spokenLocale } from '../../renderer/words';

/** What a thread of the batch is asked; it answers with a `JobAnswer`, after one word that it is there. */
export interface ThreadAsked {
  name: JobName;
  input: JobInput<JobName>;
}

// A mistake of the program ends the thread, and so reaches the one that asked.
parentPort?.on('message', async ({ name, input }: ThreadAsked) => {
  parentPort?.postMessage(await doJob(name, input, spokenLocale(), () => undefined));
});
parentPort?.postMessage('ready');
