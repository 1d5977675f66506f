/**
 * Long work of the batch on one processor and on all of them: seconds until it is done, and CPU of
 * all threads together. Claim: the same figures, in less time where there is much to do.
 */
import { availableParallelism } from 'node:os';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { lightToDo, rehearsalInputOf, startHere, type StartJob } from '../../renderer/derive';
import { onAllProcessors, type WorkerCode } from '../../electron/batch/threads';
import type { Plan } from '../../shared-types/plan';
import { manyPots, roomOfBays } from '../builders/manyPots';

interface Bundler {
  codeForThread: (entry: string) => Promise<string>;
}

const RUNS = 10_000;

// Not bundled with this: it finds its files by where it lies.
const { codeForThread } = (await import(
  pathToFileURL(resolve('build/lib/bundle.mjs')).href
)) as Bundler;
const code: WorkerCode = () => codeForThread('electron/batch/worker.ts');

async function timed(work: () => Promise<unknown>) {
  const [began, cpu] = [performance.now(), process.cpuUsage()];
  const found = await work();
  const { user, system } = process.cpuUsage(cpu);
  return { found, s: (performance.now() - began) / 1000, cpuS: (user + system) / 1e6 };
}

/** Compiles what is measured, and lets go of the room that was solved last. */
async function warm() {
  for (const { asked: of } of lightToDo(roomOfBays(6))) {
    await startHere('lightFigures', of, () => undefined).result;
  }
}

async function compared(what: string, work: (startJob: StartJob) => Promise<unknown>) {
  await warm();
  const one = await timed(() => work(startHere));
  await warm();
  const all = await timed(() => work(onAllProcessors(code)));
  const same = isDeepStrictEqual(one.found, all.found);
  if (!same) process.exitCode = 1;
  console.log(
    `${what}: ${one.s.toFixed(1)} s on one processor (${one.cpuS.toFixed(1)} s of CPU), ` +
      `${all.s.toFixed(1)} s on ${availableParallelism()} (${all.cpuS.toFixed(1)} s of CPU); ` +
      `ratio ${(one.s / all.s).toFixed(2)}; ${same ? 'the same figures' : 'OTHER FIGURES'}`,
  );
}

const rehearsed = rehearsalInputOf(manyPots({ shelves: 2, traysPerShelf: 2, rows: 4, columns: 6 }));
if (!rehearsed) throw new Error('a trial is expected');
const model = { perUmol: 0, edgeEffect: 0, plantSd: 1, traySd: 0.3, shelfSd: 0, deadShare: 0 };
const asked = {
  ...rehearsed,
  model: { ...model, startCorrelation: 0 },
  runs: RUNS,
  seed: 'bench',
  effects: { levels: {}, interactions: [] },
};
await compared(
  `a rehearsal of ${RUNS} runs`,
  (startJob) => startJob('rehearsal', asked, () => undefined).result,
);
for (const bays of [40, 200]) {
  await compared(`the light of a room of ${bays} bays`, async (startJob) => {
    // A plan of its own each time, of which nothing is known.
    const plan: Plan = roomOfBays(bays);
    const found = [];
    for (const one of lightToDo(plan)) {
      const figures = await startJob('lightFigures', one.asked, () => undefined).result;
      found.push(new Map([...figures].sort(([a], [b]) => (a < b ? -1 : 1))));
    }
    return found;
  });
}
