import { reasonOf, Refusal } from '../../words';

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
