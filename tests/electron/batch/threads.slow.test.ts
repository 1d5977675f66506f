import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, it } from 'vitest';
import { codeForThread } from '../../../build/lib/bundle.mjs';
import { onAllProcessors } from '../../../electron/batch/threads';
import { startHere, type JobInput } from '../../../renderer/derive';
import { Refusal } from '../../../renderer/words';
import { factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const code = codeForThread('electron/batch/worker.ts');

const rack = rackOf({ shelves: 1, traysPerShelf: 2, rows: 2, columns: 2 });
const model = { perUmol: 0, edgeEffect: 0, plantSd: 1, traySd: 0, shelfSd: 0, deadShare: 0 };
const input: JobInput<'rehearsal'> = {
  ...inputOf(rack, trialOf([factorOf(1, 'pot', 2)])),
  wetDepthByPot: new Map(),
  model: { ...model, startCorrelation: 0 },
  effects: { levels: {}, interactions: [] },
  runs: 4000,
  seed: 'threads',
};

const quiet = () => undefined;
const here = startHere('rehearsal', input, quiet).result;

describe('the batch on several processors', () => {
  it('gives the figures of one', async () => {
    let asked = 0;
    const start = onAllProcessors(() => ((asked += 1), code), 2);
    expect(await start('rehearsal', input, quiet).result).toEqual(await here);
    // Threads that have done their part are there for the next.
    expect(await start('rehearsal', input, quiet).result).toEqual(await here);
    expect(asked).toBe(1);
  });

  it('asks for no thread on one processor, or for little work', async () => {
    const none = () => Promise.reject(new Error('not asked for'));
    expect(await onAllProcessors(none, 1)('rehearsal', input, quiet).result).toEqual(await here);
    const few = { ...input, runs: 20 };
    const found = await onAllProcessors(none, 2)('rehearsal', few, quiet).result;
    expect(found).toEqual(await startHere('rehearsal', few, quiet).result);
  });

  it.each([
    ['has no code', () => Promise.reject(new Error('no room for it'))],
    ['does not load', () => Promise.resolve("throw new Error('will not load')")],
    ['ends as it starts', () => Promise.resolve('process.exit(3)')],
  ])('does a part itself whose thread %s', async (_how, given) => {
    const found = await onAllProcessors(given, 2)('rehearsal', input, quiet).result;
    expect(found).toEqual(await here);
  });

  it('hears a refusal as one, and a mistake of the program as that', async () => {
    const answers = (answer: string) => () =>
      Promise.resolve(
        `const { parentPort } = require('node:worker_threads');
         parentPort.on('message', () => { ${answer} });
         parentPort.postMessage('ready');`,
      );
    const asked = (answer: string) =>
      onAllProcessors(answers(answer), 2)('rehearsal', input, quiet).result;
    const refused = asked("parentPort.postMessage({ ok: false, reason: 'No pot is left.' })");
    await expect(refused).rejects.toThrow(new Refusal('No pot is left.'));
    await expect(asked("throw new TypeError('a bug')")).rejects.toThrow(TypeError);
    await expect(asked('process.exit(9)')).rejects.toThrow('ended with code 9');
  });

  it('a signal ends it at once, with all its threads', async () => {
    const plan = 'renderer/app/examples/basil.json';
    const words = ['rehearse', plan, '--effect', '{}', '--runs', '90000', '--seed', 'x'];
    const child = spawn(process.execPath, ['build/batch.mjs', ...words], { stdio: 'ignore' });
    await new Promise((wait) => setTimeout(wait, 2500));
    const began = performance.now();
    child.kill('SIGINT');
    expect(await once(child, 'exit')).toEqual([null, 'SIGINT']);
    expect(performance.now() - began).toBeLessThan(2000);
  });
});
