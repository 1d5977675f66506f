import { expose } from 'comlink';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { RunJob } from '../../renderer/app/jobs/worker';
import { jobStarter } from '../../renderer/app/jobs/startJob';
import type { JobInput } from '../../renderer/derive';
import { Refusal } from '../../renderer/words';

/** Workers that are message ports of this thread: each answers its own number, or refuses. */
function setUp(refuses = false) {
  const made: { ended: boolean; answer: (() => void) | null }[] = [];
  const ports: MessagePort[] = [];
  const makeWorker = () => {
    const { port1, port2 } = new MessageChannel();
    ports.push(port1, port2);
    const own: (typeof made)[number] = { ended: false, answer: null };
    const number = made.push(own);
    const run = () =>
      new Promise((done) => {
        own.answer = () =>
          done(refuses ? { ok: false, reason: 'No lamp.' } : { ok: true, result: number });
      });
    expose(run as unknown as RunJob, port2);
    port1.start();
    const terminate = () => {
      own.ended = true;
      port1.close();
    };
    return Object.assign(port1, { terminate }) as unknown as Worker;
  };
  afterEach(() => ports.forEach((port) => port.close()));
  const start = jobStarter(makeWorker);
  const job = () => start('findings', {} as JobInput<'findings'>, () => undefined);
  /** Lets a worker answer as soon as it has been asked. */
  const answer = async (worker: number) => {
    await vi.waitFor(() => expect(made[worker]?.answer).not.toBeNull());
    made[worker]?.answer?.();
    if (made[worker]) made[worker].answer = null;
  };
  return { made, job, answer };
}

describe('long work', () => {
  it('is done by the worker that did the work before, which a late cancel does not end', async () => {
    const { made, job, answer } = setUp();
    const first = job();
    await answer(0);
    expect(await first.result).toBe(1);
    first.cancel();
    const second = job();
    await answer(0);
    expect(await second.result).toBe(1);
    expect(made.map(({ ended }) => ended)).toEqual([false]);
  });

  it('that is cancelled ends its worker at once, and the next has a new one', async () => {
    const { made, job, answer } = setUp();
    job().cancel();
    const next = job();
    await answer(1);
    expect(await next.result).toBe(2);
    expect(made.map(({ ended }) => ended)).toEqual([true, false]);
  });

  it('side by side has workers of its own, of which one is kept', async () => {
    const { made, job, answer } = setUp();
    const both = [job(), job()];
    await answer(0);
    await answer(1);
    expect(await Promise.all(both.map(({ result }) => result))).toEqual([1, 2]);
    await vi.waitFor(() => expect(made.map(({ ended }) => ended)).toEqual([false, true]));
  });

  it('that is refused says so, and its worker is kept', async () => {
    const { made, job, answer } = setUp(true);
    const refused = job();
    await answer(0);
    await expect(refused.result).rejects.toThrow(Refusal);
    expect(made[0]?.ended).toBe(false);
  });
});
