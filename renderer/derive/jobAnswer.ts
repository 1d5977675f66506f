import { reasonOf, Refusal, speakAs } from '../words';
import type { Locale } from '../../shared-types/window/locale';
import { jobs, type JobInput, type JobName, type Progress, type StartJob } from './jobs';

/** What a worker tells: between threads an error loses its class, so a refusal goes as data. */
export type JobAnswer = { ok: true; result: unknown } | { ok: false; reason: string };

/** The worker's side; any error but a refusal is thrown on, and so reaches the caller as it is. */
export async function answerOf(work: () => unknown): Promise<JobAnswer> {
  try {
    return { ok: true, result: await work() };
  } catch (error) {
    return { ok: false, reason: reasonOf(error) };
  }
}

/** The caller's side: the result. Throws the refusal. */
export function resultOf(answer: JobAnswer): unknown {
  if (!answer.ok) throw new Refusal(answer.reason);
  return answer.result;
}

const done = (name: JobName, input: JobInput<JobName>, tell: Progress): unknown =>
  (jobs[name] as (input: JobInput<JobName>, tell: Progress) => unknown)(input, tell);

/** Does a job in a worker, whose sentences are read where it was asked for. */
export function doJob(
  name: JobName,
  input: JobInput<JobName>,
  locale: Locale,
  tell: Progress,
): Promise<JobAnswer> {
  speakAs(locale);
  return answerOf(() => done(name, input, tell));
}

/** Starts jobs on the thread that asks; nothing else happens until they are done. */
export const startHere: StartJob = (name, input, tell) => {
  const result = new Promise((resolve) => resolve(done(name, input, tell)));
  return { result: result as Promise<never>, cancel: () => undefined };
};
