import { describe, expect, it } from 'vitest';
import type { FloodZone } from '../../../shared-types/flood';
import { floodFigures, floodNotices } from '../../../renderer/engine/flood';
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
    const zone = { pump: pump(20), schedule: once(30), drain: valve };
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
    expect(notices.map(({ kind }) => kind)).toContain('reservoir-too-small');
  });

  it('a tray that the pump does not fill is judged by the depth that it reaches', () => {
    const { found, whole, notices } = flooded({ pump: pump(2), schedule: once(2), drain: valve });
    const told = notices.find(({ kind }) => kind === 'never-fills');
    expect(found.peakMm).toBeLessThan(aZone({}).crestMm / 2);
    expect(told?.text).toContain('in the 2 min that the pump runs');
    expect(told?.text).not.toContain('comes to');
    // 4 L from the pump: no more is out of the reservoir, but for what stood there and the pipe.
    expect(whole.spilledL).toBe(0);
    expect(whole.drawL).toBeLessThan(found.firstL);
  });
});
