import { describe, expect, it } from 'vitest';
import {
  inParts,
  jobs,
  type JobInput,
  type JobName,
  type RunningJob,
  type StartJob,
} from '../../renderer/derive';
import { factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';

/** Tray means of plants that differ, so that every part has something to count. */
function rehearsal(primaryPosition: 'none' | 'light', runs: number): JobInput<'rehearsal'> {
  const rack = rackOf({ shelves: 2, traysPerShelf: 2, rows: 3, columns: 4 });
  const trial = trialOf([factorOf(1, 'pot', 2), factorOf(2, 'pot', 3)], { primaryPosition });
  return {
    ...inputOf(rack, trial),
    wetDepthByPot: new Map(),
    model: {
      perUmol: 0,
      edgeEffect: 0,
      plantSd: 1,
      traySd: 0.3,
      shelfSd: 0,
      deadShare: 0.1,
      startCorrelation: 0,
    },
    effects: { levels: { f1: { l101: 0.3, l102: -0.3 } }, interactions: [] },
    runs,
    seed: 'parts',
  };
}

/** Does each job at once, and tells which were started, and which ended before their time. */
function atOnce(failing: string | null = null) {
  const started: string[] = [];
  let ended = 0;
  const start: StartJob = (name, input, tell) => {
    started.push(name);
    const work = (): unknown => {
      if (name === failing) throw new Error('a worker broke');
      return (jobs[name] as (input: JobInput<JobName>, tell: typeof telling) => unknown)(
        input,
        tell,
      );
    };
    const telling = tell;
    const result = new Promise((done) => done(work()));
    return { result, cancel: () => ended++ } as unknown as RunningJob<never>;
  };
  return { start, started, ended: () => ended };
}

describe('long work in parts', () => {
  it.each(['none', 'light'] as const)(
    'gives the figures and words of the whole, position as %s',
    async (position) => {
      const input = rehearsal(position, 120);
      const whole = jobs.rehearsal(input, () => undefined);
      for (const [hands, parts] of [
        [1, 0],
        [2, 2],
        [5, 2],
      ] as const) {
        const { start, started } = atOnce();
        const told: number[] = [];
        const job = inParts(start, hands)('rehearsal', input, (done) => told.push(done));
        expect(await job.result).toEqual(whole);
        expect(started.filter((name) => name === 'rehearsalPart')).toHaveLength(parts);
        expect(told.at(-1)).toBe(120);
        expect(told).toEqual([...told].sort((a, b) => a - b));
      }
    },
  );

  it('ends the other parts where one fails', async () => {
    const { start, ended } = atOnce('rehearsalPart');
    const job = inParts(start, 2)('rehearsal', rehearsal('none', 100), () => undefined);
    await expect(job.result).rejects.toThrow('a worker broke');
    expect(ended()).toBe(2);
  });
});
