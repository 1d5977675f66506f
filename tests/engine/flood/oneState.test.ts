import { describe, expect, it } from 'vitest';
import type { FloodZone } from '../../../shared-types/flood';
import { floodFigures, floodNotices, needsAndGets } from '../../../renderer/engine/flood';
import { aFlood, aPlan, aTray, aZone } from './plans';
import { tableOf, walk } from './steps';

/** A bare tray flooded once a day, so that each run begins at the residual water. */
function flooded(zone: Partial<FloodZone>) {
  const tray = aTray({ rimHeightMm: 60, grid: null });
  const flood = aFlood({ zones: [aZone(zone)] });
  const plan = aPlan(tray, flood);
  const figures = floodFigures(plan.rack, flood);
  const found = figures.trays.get('t11');
  const [whole] = figures.zones;
  if (!found || !whole) throw new Error('the tray has no figures');
  return { tray, found, whole, notices: floodNotices(plan, figures) };
}
const pump = (flowLMin: number) => ({ name: 'pump', powerW: 20, curve: [{ headM: 5, flowLMin }] });
const once = (onMinutes: number) => [{ startHour: 6, endHour: 6, everyMinutes: 60, onMinutes }];
const valve = { kind: 'valve', boreMm: 20 } as const;

describe('all verdicts share what the cycle really does', () => {
  it('a tray that runs over takes what the pump moves out of the reservoir', () => {
    const zone = { pump: pump(20), schedule: once(30), drain: valve, reservoirL: 700 };
    const { tray, found, whole, notices } = flooded(zone);
    const walked = walk({
      table: tableOf(tray, undefined, { at: [], diameterMm: 1, heightMm: 1, pores: 1 }),
      zone: aZone(zone),
      inflowLMin: 20,
      fromMm: aZone(zone).residualMm,
      seconds: 30 * 60,
    });
    expect(walked.inL - walked.outL - walked.overL - walked.changeL).toBeCloseTo(0, 6);
    expect(walked.overL).toBeGreaterThan(100);
    expect(Math.abs(found.spilledL / walked.overL - 1)).toBeLessThan(0.02);
    expect(whole.neededL).toBeGreaterThan(walked.overL);
    const scarce = flooded({ ...zone, reservoirL: 500 }).notices;
    expect(notices.map(({ kind }) => kind)).toEqual(['overtops', 'reservoir-too-small']);
    expect(scarce.find(({ kind }) => kind === 'reservoir-too-small')?.remedy).toContain(
      'Keep the trays from running over',
    );
  });

  it('a tray that the pump does not fill is judged by the depth that it reaches', () => {
    const { found, whole, notices } = flooded({ pump: pump(2), schedule: once(2), drain: valve });
    const told = notices.find(({ kind }) => kind === 'never-fills');
    expect(found.peakMm).toBeLessThan(aZone({}).floodDepthMm / 2);
    expect(told?.text).toContain('in the 2 min the pump runs');
    expect(told?.text).not.toContain('comes to');
    // 4 L from the pump: no more is out of the reservoir, but for what stood there and the pipe.
    expect(whole.spilledL).toBe(0);
    expect(whole.drawL).toBeLessThan(found.firstL);
  });

  it('says what filling needs, what it gets and how far that goes; and no margin', () => {
    // 4 L of 28.8 L: 5.6 mm of 40.
    const { found, notices } = flooded({ pump: pump(2), schedule: once(2), drain: valve });
    expect(found.fillMargin).toBeNull();
    expect(notices.find(({ kind }) => kind === 'never-fills')?.text).toBe(
      'Tray 1A needs 14.4 min of 2 L/min to fill from dry, and gets 2 min. It reaches 5.6 mm of ' +
        '40 mm in the 2 min the pump runs. Later floods, from moist media and what still stands, ' +
        'reach 7.6 mm.',
    );
    expect(needsAndGets(360, 120)).toBe('needs 6 min, gets 2');
    expect(needsAndGets(360, 45)).toBe('needs 6 min, gets 45 s');
    // 28.8 L at 2 L/min are 864 s.
    expect(flooded({ pump: pump(2), schedule: once(15), drain: valve }).found.fillMargin).toEqual(
      expect.objectContaining({ spare: expect.closeTo(36, 6) as number }),
    );
  });

  it('drains from the highest water that there is, and where there is none not at all', () => {
    const low = flooded({ pump: pump(2), schedule: once(2), drain: valve }).found;
    const k = 0.61 * (Math.PI / 4) * 0.02 ** 2 * Math.sqrt(2 * 9.80665);
    const seconds = ((2 * 0.72) / k) * (Math.sqrt(low.peakMm / 1000) - Math.sqrt(0.002));
    expect((low.drainS ?? NaN) / seconds).toBeCloseTo(1, 6);
    const weak = { name: 'pump', powerW: 20, curve: [{ headM: 0.1, flowLMin: 9 }] };
    const dry = flooded({ pump: weak });
    expect(dry.found.drainS).toBeNull();
    expect(dry.found.drainMargin).toBeNull();
    expect(dry.notices.map(({ kind }) => kind)).toEqual(['pump-below-head']);
  });

  it('a crest over the rim spills only where the water gets there', () => {
    const spills = (floodDepthMm: number, onMinutes: number) => {
      const { found, notices } = flooded({
        floodDepthMm,
        schedule: once(onMinutes),
        pump: pump(10),
      });
      const told = notices.find(({ kind }) => kind === 'overtops');
      return [found.spills, told?.severity, told?.text];
    };
    // 43.2 L fill it to the rim: 4.32 min from dry, a little less from what never drains.
    expect(spills(61, 3)).toEqual([
      false,
      'warn',
      "The flood depth of tray 1A is set to 61 mm, but the rim is at 60 mm. Only the pump's short run " +
        'keeps it from running over: the water comes to 43.7 mm.',
    ]);
    expect(spills(61, 30).slice(0, 2)).toEqual([true, 'stop']);
    expect(spills(40, 30)).toEqual([false, undefined, undefined]);
  });

  it('a flooded shelf bears the water that is reached, and one to the rim what may ever stand', () => {
    const kg = (zone: Partial<FloodZone>) => {
      const plan = aPlan(aTray({ rimHeightMm: 60, grid: null }), aFlood({ zones: [aZone(zone)] }));
      const [load] = floodFigures(plan.rack, aFlood({ zones: [aZone(zone)] })).loads;
      return [load?.casesKg.flooded, load?.casesKg.blocked];
    };
    // A tray of 6 kg; 1.44 L stand and 4 L come in: 998.20413 g/L by trade-facts.md 5.1.
    const [flooded4L, rim] = kg({ pump: pump(2), schedule: once(2), drain: valve });
    expect(flooded4L).toBeCloseTo(6 + 5.44 * 0.99820413, 6);
    expect(rim).toBeCloseTo(6 + 43.2 * 0.99820413, 6);
    // Nobody has said when it floods: then to the crest.
    expect(kg({ schedule: [] })[0]).toBeCloseTo(6 + 28.8 * 0.99820413, 6);
  });

  it('a zone without a schedule is judged as filled to its crest, and spills nothing', () => {
    const { found, whole, notices } = flooded({ schedule: [] });
    expect(found.peakMm).toBe(40);
    expect(whole.spilledL).toBe(0);
    expect(notices).toEqual([]);
  });

  it('takes the root zone up to the rim of the pots, and says so', () => {
    const { grid } = aTray();
    const told = (potHeightMm: number) => {
      const tray = aTray({ grid: grid && { ...grid, potHeightMm } });
      const plan = aPlan(tray, aFlood({ rootZoneTopMm: 100 }));
      const figures = floodFigures(plan.rack, aFlood({ rootZoneTopMm: 100 }));
      const found = floodNotices(plan, figures).filter((n) => n.kind === 'root-zone-over-pot');
      return [found.map(({ text }) => text), figures.trays.get('t11')?.wetAtPeak];
    };
    // The peak is 48.15 mm (8.15 mm over the lip).
    const [text, wet] = told(80);
    expect(text).toEqual([
      'The root zone is set to 100 mm, but the pots of tray 1A are only 80 mm high. There it is ' +
        'taken to end at their rims.',
    ]);
    expect(wet).toBeCloseTo(48.15 / 80, 3);
    expect(told(100)).toEqual([[], expect.closeTo(0.4815, 3)]);
  });
});
