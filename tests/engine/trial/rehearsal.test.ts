import { describe, expect, it } from 'vitest';
import { rehearse } from '../../../renderer/engine/trial';
import type {
  RehearsedAnalysis,
  Grown,
  HarvestModel,
  RehearsedTest,
  TrueEffects,
} from '../../../renderer/engine/trial';
import { differencesBetweenEnds } from '../../../renderer/engine/trial/rehearsal';
import { checkModel, harvester, trueShift } from '../../../renderer/engine/trial/rehearsal/harvest';
import { sayOutcome } from '../../../renderer/engine/trial/rehearsal/outcome';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import { stream } from '../../../renderer/engine/trial/stream';
import {
  domedLight,
  factorOf,
  inputOf,
  rackOf,
  soundSplitPlot,
  trialOf,
} from '../../builders/trialInput';
import { Refusal } from '../../../renderer/words';

const model: HarvestModel = {
  perUmol: 0,
  edgeEffect: 0,
  plantSd: 1,
  traySd: 0,
  shelfSd: 0,
  deadShare: 0,
  startCorrelation: 0,
};
const none: TrueEffects = { levels: {}, interactions: [] };

type Rehearsed = Grown & { response: Float64Array };

/** An analysis that says what it is told to, to look at the rehearsal alone. */
const telling = (planned: (harvest: Rehearsed) => RehearsedTest[]) => (): RehearsedAnalysis => ({
  words: 'stands in',
  planned: (grown) => ({
    tests: (response) => planned({ ...grown, response }),
    finds: (response) =>
      planned({ ...grown, response }).map(({ factorIds, p }) => ({
        factorIds,
        found: p === null ? null : p < 0.05,
      })),
  }),
  potsAsUnits: () => ({ tests: () => [], finds: () => [] }),
  departures: () => ({ words: [], placeLeftOut: { times: 0, of: 0, reason: '' } }),
});

const moments = (values: readonly number[]) => {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return {
    mean,
    sd: Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length),
  };
};

describe('a made-up harvest', () => {
  it('has the spreads, light response, edge effect, deaths and correlation asked for', () => {
    const rack = rackOf({ shelves: 20, traysPerShelf: 5, rows: 10, columns: 10 });
    const site = siteOf(inputOf(rack, trialOf([factorOf(1, 'pot', 2)]), domedLight(rack, 0.4)));
    const grow = harvester(site, {
      perUmol: 0.05,
      edgeEffect: 3,
      plantSd: 2,
      traySd: 1.5,
      shelfSd: 4,
      deadShare: 0.1,
      startCorrelation: 0.6,
    });
    const grown = grow(new Float64Array(site.pots.length), stream('moments', 'harvest'));
    // What is left of a pot without its light and its edge: shelf, tray and plant.
    const light = site.ppfd ?? [];
    const meanLight = moments(light).mean;
    const rest = site.pots.map(
      (pot, i) =>
        (grown.untreated[i] ?? 0) - 0.05 * ((light[i] ?? 0) - meanLight) - (pot.onEdge ? 3 : 0),
    );
    const byTray = new Map<string, number[]>();
    site.pots.forEach((pot, i) => {
      byTray.set(pot.trayId, [...(byTray.get(pot.trayId) ?? []), rest[i] ?? 0]);
    });
    const trays = [...byTray.values()].map(moments);
    const within = Math.sqrt(trays.reduce((sum, t) => sum + t.sd ** 2, 0) / trays.length);
    // 100 trays of 100 plants: standard errors of 0.014, 0.12 and 0.7 for the three spreads.
    expect(Math.abs(within - 2)).toBeLessThan(0.06);
    const shelves = Array.from({ length: 20 }, (_, s) => trays.slice(5 * s, 5 * s + 5));
    const traySd = Math.sqrt(
      shelves.reduce((sum, own) => sum + (moments(own.map((t) => t.mean)).sd ** 2 * 5) / 4, 0) / 20,
    );
    expect(Math.abs(traySd - 1.5)).toBeLessThan(0.5);
    expect(
      Math.abs(moments(shelves.map((own) => moments(own.map((t) => t.mean)).mean)).sd - 4),
    ).toBeLessThan(2);
    const alive = grown.alive.reduce((sum, one) => sum + one, 0) / site.pots.length;
    expect(Math.abs(alive - 0.9)).toBeLessThan(4 * Math.sqrt(0.09 / site.pots.length));
    // Correlation of the start with what a plant is within its tray.
    const deviation = site.pots.map((pot, i) => {
      return (rest[i] ?? 0) - moments(byTray.get(pot.trayId) ?? []).mean;
    });
    const start = Array.from(grown.start);
    const product = deviation.reduce((sum, d, i) => sum + d * (start[i] ?? 0), 0) / start.length;
    const correlation = product / (moments(deviation).sd * moments(start).sd);
    expect(Math.abs(correlation - 0.6)).toBeLessThan(4 * (0.64 / 100));
  });

  it('takes the weighed starting values where every pot has one', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 2, columns: 2 });
    const input = inputOf(rack, trialOf([factorOf(1, 'pot', 2)]));
    const ids = siteOf(input).pots.map((pot) => pot.id);
    const startByPot = new Map(ids.map((id, i) => [id, [1, 2, 3, 6][i] ?? 0]));
    const site = siteOf({ ...input, startByPot });
    const { start } = harvester(site, model)(new Float64Array(4), stream('a', 'b'));
    // Mean 3, variance (4 + 1 + 0 + 9) / 3.
    const sd = Math.sqrt(14 / 3);
    expect([...start]).toEqual([-2 / sd, -1 / sd, 0, 3 / sd]);
  });

  it('carries an interaction that leaves the means of each factor alone', () => {
    const rack = rackOf({ shelves: 1, traysPerShelf: 1, rows: 3, columns: 2 });
    const site = siteOf(inputOf(rack, trialOf([factorOf(1, 'pot', 3), factorOf(2, 'pot', 2)])));
    const levels = new Map([
      ['f1', Int32Array.from([0, 0, 1, 1, 2, 2])],
      ['f2', Int32Array.from([0, 1, 0, 1, 0, 1])],
    ]);
    const shift = trueShift(site, levels, {
      levels: {},
      interactions: [{ factorIds: ['f1', 'f2'], difference: 8 }],
    });
    // (first, first) − (first, last) − (last, first) + (last, last) = 8.
    expect([...shift].map((value) => value + 0)).toEqual([2, -2, 0, 0, -2, 2]);
  });

  it('reads a difference as between the ends, the other levels midway', () => {
    const { levels } = differencesBetweenEnds([factorOf(1, 'pot', 4)], () => 3);
    expect(levels).toEqual({ f1: { l101: -1.5, l102: 0, l103: 0, l104: 1.5 } });
  });
});

describe('rehearsal', () => {
  it('counts how often p falls below alpha, with and without the effects', () => {
    const effects = { levels: { f2: { l201: 100 } }, interactions: [] };
    const seen: Rehearsed[] = [];
    const report = rehearse(
      { ...soundSplitPlot(), model, effects, runs: 8, seed: 'count' },
      telling((harvest) => {
        seen.push(harvest);
        const treated = harvest.response.some((value) => value > 50);
        return [
          { factorIds: ['f2'], p: treated ? 0.049 : 0.05 },
          { factorIds: ['f2', 'f1'], p: seen.length <= 4 ? 0.01 : 0.9 },
          { factorIds: ['f1'], p: null },
        ];
      }),
    );
    expect(seen).toHaveLength(16);
    expect(report.factors[0]).toMatchObject({ factorId: 'f1', power: null, falseAlarm: null });
    expect(report.factors[1]).toMatchObject({
      factorId: 'f2',
      power: { share: 1, se: 0 },
      falseAlarm: { share: 0, se: 0 },
      errorTerm: 'between pots',
    });
    // Four of sixteen harvests: two runs, with and without the effects.
    const share = { share: 0.25, se: Math.sqrt((0.25 * 0.75) / 8) };
    expect(report.interactions).toMatchObject([
      { factorIds: ['f1', 'f2'], power: share, falseAlarm: share, errorTerm: 'between pots' },
    ]);
    expect(report.analysis).toBe('stands in');
  });

  it('draws another layout for every run, and the same ones from the same seed', () => {
    const drawn = (seed: string) => {
      const levels: string[] = [];
      rehearse(
        { ...soundSplitPlot(), model, effects: none, runs: 5, seed },
        telling((harvest) => {
          levels.push(String(harvest.levels.get('f2')), String(harvest.response));
          return [];
        }),
      );
      return levels;
    };
    const first = drawn('again');
    expect(drawn('again')).toEqual(first);
    expect(drawn('other')).not.toEqual(first);
    expect(new Set(first).size).toBe(10);
  });

  it('says how many harvests could not be analysed and why, and passes on its own mistakes', () => {
    let call = 0;
    const request = { ...soundSplitPlot(), model, effects: none, runs: 10, seed: 'fails' };
    const report = rehearse(
      request,
      telling(() => {
        if (++call % 4 === 0) throw new Refusal('too few plants are left');
        return [];
      }),
    );
    expect(report.notes).toEqual([
      '5 of 20 harvests could not be analysed and count as nothing found; the last because: too few plants are left',
    ]);
    const broken = telling(() => {
      throw new TypeError('broken');
    });
    expect(() => rehearse(request, broken)).toThrow(TypeError);
  });

  it('tells its progress', () => {
    const told: number[] = [];
    const request = { ...soundSplitPlot(), model, effects: none, runs: 25, seed: 'stop' };
    const nothing = telling(() => []);
    rehearse({ ...request, onProgress: (done) => told.push(done) }, nothing);
    expect(told).toEqual([10, 20, 25]);
  });

  it('names an unknown factor, level or impossible figure', () => {
    const request = { ...soundSplitPlot(), model, effects: none, runs: 10, seed: 'x' };
    const run = (more: Partial<typeof request>) => () =>
      rehearse(
        { ...request, ...more },
        telling(() => []),
      );
    const levels = (of: Record<string, Record<string, number>>) => ({
      effects: { levels: of, interactions: [] },
    });
    expect(run(levels({ f9: {} }))).toThrow('factor f9 was found; one of f1, f2 is expected');
    expect(run(levels({ f1: { l999: 1 } }))).toThrow('level l999 was found');
    expect(run(levels({ f1: { l101: NaN } }))).toThrow('NaN was found');
    const both = (factorIds: string[], difference = 1) => ({
      effects: { levels: {}, interactions: [{ factorIds, difference }] },
    });
    expect(run(both(['f1', 'f8']))).toThrow('factor f8 was found');
    expect(run(both(['f1']))).toThrow('1 factors were found; two or more different ones');
    expect(run(both(['f1', 'f2'], Infinity))).toThrow('Factor 1 × Factor 2: Infinity was found');
    for (const runs of [0, -1, 1.5, NaN, Infinity]) expect(run({ runs })).toThrow(`${runs} runs`);
  });

  it.each([
    ['plantSd', 0],
    ['plantSd', -1],
    ['traySd', NaN],
    ['shelfSd', Infinity],
    ['deadShare', 1],
    ['startCorrelation', 1],
    ['perUmol', NaN],
    ['edgeEffect', Infinity],
  ] as const)('refuses %s of %s', (name, value) => {
    expect(() => checkModel({ ...model, [name]: value })).toThrow(`${name} of ${value} was found`);
  });
});

describe('what a rehearsal says', () => {
  const rate = (share: number) => ({ share, se: 0.01 });
  const outcome = { name: 'feed', runs: 1000, alpha: 0.05, power: rate(0.8), potsAsUnits: null };

  it('calls a false-alarm rate off only beyond three Monte-Carlo errors', () => {
    // √(0.05 · 0.95 / 1000) = 0.0069: off above 0.0707 and below 0.0293.
    const say = (share: number) => sayOutcome({ ...outcome, falseAlarm: rate(share) });
    expect(say(0.07)).toBe('feed: false alarms as asked for (7 %).');
    expect(say(0.071)).toContain('more false alarms (7.1 %) than the 5 % asked for');
    expect(say(0.03)).toContain('as asked for');
    expect(say(0.029)).toContain('fewer false alarms (2.9 %)');
  });
});
