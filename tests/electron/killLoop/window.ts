import { appendFileSync } from 'node:fs';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { fileActions } from '../../../renderer/app/files/files';
import { sortCopies } from '../../../renderer/app/files/recoveries';
import { renamePlan } from '../../../renderer/document/commands';
import { emptyPlan } from '../../../renderer/document/new';
import { createPlanStore } from '../../../renderer/store/planStore';
import { keepRecovery } from '../../../renderer/store/recovery';
import { createSessionStore } from '../../../renderer/store/sessionStore';
import { hostOn } from './host';

// A window without its screen, to be killed: the real store, file actions and recovery over the
// real bridge, handlers and disk. It goes on with what it finds, edits and saves at random moments,
// and writes down every edit before the next one.

const [folder = '', seed = ''] = process.argv.slice(2);
const path = join(folder, 'trial.evenrack');
const note = (words: string): void => appendFileSync(join(folder, 'log'), `${words}\n`);
const random = seedrandom(seed);
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const host = hostOn(folder, path);
const stores = { plan: createPlanStore(), session: createSessionStore() };
const files = fileActions(
  host,
  stores,
  () => Promise.resolve(true),
  () => Promise.reject(new Error('a conflict was told, but nobody else writes')),
);
const timed: Parameters<typeof keepRecovery>[1] = {
  ...host,
  async keepForRecovery(...copy) {
    const started = Date.now();
    await host.keepForRecovery(...copy);
    note(`kept ${Date.now() - started}`);
  },
};
keepRecovery(stores.plan, timed, (reason) => note(`trouble ${String(reason)}`), {
  set: (run, ms) => setTimeout(run, ms),
  clear: (timer) => clearTimeout(timer as NodeJS.Timeout),
  now: () => performance.now(),
  onHands: () => () => undefined,
});
let last = Date.now();
setInterval(() => {
  note(`stall ${Date.now() - last - 20}`);
  last = Date.now();
}, 20);

const { usable, spent } = sortCopies(await host.recoveries());
for (const copy of spent) await host.forgetRecovery(copy);
const [copy] = usable;
const [recent] = await host.recentPlans();
const problem = copy
  ? await files.recover(copy)
  : recent
    ? await files.openRecent(recent.ref)
    : (stores.plan.getState().open(emptyPlan('0'), null, true), await files.saveAs());
if (problem !== null) note(`trouble ${problem}`);
let n = Number(stores.plan.getState().plan?.title ?? 0);
process.stdout.write('ready\n');
for (;;) {
  await pause(random() * 120);
  n += 1;
  stores.plan.getState().dispatch(renamePlan, { title: String(n) });
  note(`edit ${n} ${Date.now()}`);
  if (random() < 0.2) {
    void files.save().then((trouble) => note(trouble === null ? 'saved' : `trouble ${trouble}`));
  }
}
