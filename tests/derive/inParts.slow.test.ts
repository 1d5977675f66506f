import { describe, expect, it } from 'vitest';
import {
  fieldsInputOf,
  inParts,
  jobs,
  lightToDo,
  potLightOf,
  randomisationInputOf,
  type JobInput,
  type JobName,
  type RunningJob,
  type StartJob,
} from '../../renderer/derive';
import { emptyPlan, newLamp, newLampKind } from '../../renderer/document/new';
import { potLight } from '../../renderer/engine/light';
import type { Plan } from '../../shared-types/plan';
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

/** Small lit racks of one shelf in a row, dimmed more and more unless a dimming is given. */
function rowOfRacks(many: number, gapMm: number, dimming?: number): Plan {
  const { shelves } = rackOf({ shelves: many, traysPerShelf: 1, rows: 2, columns: 2 });
  const lit = shelves.map((shelf, nth) => ({
    ...shelf,
    heightMm: 500,
    stands: { xMm: (shelf.widthMm + gapMm) * nth, yMm: 0, turnDeg: 0 as const },
    lamps: [{ ...newLamp(`l${nth}`, 'k1', shelf), dimming: dimming ?? 1 - nth / (2 * many) }],
  }));
  return { ...emptyPlan('A row'), rack: { shelves: lit, lampKinds: [newLampKind('k1')] } };
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

  it('are as many as there are hands, with figures that are the same to the last bit', async () => {
    const rehearsed = rehearsal('none', 350);
    // Too far apart to light each other, so that each is solved quickly.
    const plan = rowOfRacks(42, 3000);
    const todo = lightToDo(plan)[0];
    if (!todo) throw new Error('the light is not known yet');
    const whole = jobs.rehearsal(rehearsed, () => undefined);
    const lit = jobs.lightFigures(todo.asked, () => undefined);
    for (const hands of [1, 2, 3, 7]) {
      const { start, started } = atOnce();
      const all = inParts(start, hands);
      expect(await all('rehearsal', rehearsed, () => undefined).result).toEqual(whole);
      expect(started).toHaveLength(hands);
      // Nothing is known to a worker of what another one has found.
      const rack = { ...plan.rack, lampKinds: [...plan.rack.lampKinds] };
      const found = await all('lightFigures', { ...todo.asked, rack }, () => undefined).result;
      expect(started).toHaveLength(2 * hands);
      expect(new Map([...found].sort())).toEqual(new Map([...lit].sort()));
    }
  });

  it('asks once for shelves that are alike, and gives each its own light', () => {
    const plan = rowOfRacks(14, 100, 1);
    const [todo, ...more] = lightToDo(plan);
    if (!todo) throw new Error('the light is not known yet');
    expect(more).toEqual([]);
    // The two racks at either end see other racks than those between.
    expect(todo.asked.shelfIds).toEqual(['s1', 's2', 's3', 's13', 's14']);
    todo.keep(jobs.lightFigures(todo.asked, () => undefined));
    expect(lightToDo(plan)).toEqual([]);
    const found = [...potLightOf(plan).pots.values()];
    const own = [...potLight(plan.rack, plan.light).pots.values()];
    expect(found).toEqual(own);
    expect(found).toHaveLength(14 * 4);
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
