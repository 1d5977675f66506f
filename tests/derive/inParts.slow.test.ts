import { describe, expect, it } from 'vitest';
import {
  fieldsInputOf,
  inParts,
  jobs,
  randomisationInputOf,
  type JobInput,
  type JobName,
  type RunningJob,
  type StartJob,
} from '../../renderer/derive';
import { smallBasil } from '../builders/smallBasil';
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
      const input = rehearsal(position, 101);
      const whole = jobs.rehearsal(input, () => undefined);
      const { start, started } = atOnce();
      const told: number[] = [];
      const job = inParts(start, 8)('rehearsal', input, (done) => told.push(done));
      expect(await job.result).toEqual(whole);
      expect(started).toEqual(['rehearsalPart', 'rehearsalPart']);
      expect(told.at(-1)).toBe(101);
      expect(told).toEqual([...told].sort((a, b) => a - b));
    },
  );

  it.each([
    ['cultivar, drawn anew', 1, 2],
    ['feed, every layout listed', 0, 2],
    ['cultivar, with a covariance of places', 1, 0],
  ] as const)('counts the same layouts: %s', async (what, factor, parts) => {
    const basil = smallBasil();
    const primaryPosition = what.includes('covariance') ? ('ar1' as const) : ('none' as const);
    const data = randomisationInputOf({ ...basil, trial: { ...basil.trial, primaryPosition } });
    const factorId = basil.trial.factors[factor]?.id;
    if (!data || factorId === undefined) throw new Error('basil has records of two factors');
    const asked = {
      measurementId: null,
      index: null,
      factorIds: [factorId],
      runs: 4001,
      seed: 'a',
    };
    const whole = jobs.randomisationTest({ data, asked }, () => undefined);
    const { start, started } = atOnce();
    const job = inParts(start, 2)('randomisationTest', { data, asked }, () => undefined);
    expect(await job.result).toEqual(whole);
    expect(started).toHaveLength(Math.max(1, parts));
  });

  it('pictures the same light, shelf by shelf', async () => {
    const input = fieldsInputOf(smallBasil());
    expect(input.shelfIds.length).toBeGreaterThan(1);
    const whole = jobs.lightFields(input, () => undefined);
    const { start, started } = atOnce();
    const found = await inParts(start, 2)('lightFields', input, () => undefined).result;
    expect(started).toHaveLength(2);
    const inOrder = (fields: typeof whole) => [...fields].sort(([a], [b]) => a.localeCompare(b));
    expect(inOrder(found)).toEqual(inOrder(whole));
  });

  it('ends the other parts where one fails', async () => {
    const { start, ended } = atOnce('rehearsalPart');
    const job = inParts(start, 2)('rehearsal', rehearsal('none', 100), () => undefined);
    await expect(job.result).rejects.toThrow('a worker broke');
    expect(ended()).toBe(2);
  });
});
