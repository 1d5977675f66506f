import { describe, expect, it } from 'vitest';
import {
  noticesOf,
  outdatedReadingsOf,
  potLightOf,
  readingRowsOf,
  withEstimates,
} from '../../../renderer/derive';
import {
  addReadings,
  editLamps,
  editReading,
  keepReadings,
  planRuns,
} from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';

const bare: Plan = { ...drawnPlan(), layout: null };
const place = (xMm: number, yMm: number) => ({ shelfId: 's1', xMm, yMm, zMm: 120 });
const places = [place(200, 150), place(600, 300), place(1000, 450), place(400, 400)];

/** Readings that put lamps at 0.8 of their figures, as the screen adds them. */
function metered(plan: Plan, share = 0.8): Plan {
  const readings = withEstimates(plan, places).map(({ estimateUmol, ...at }) => ({
    ...at,
    ...(estimateUmol === undefined ? {} : { estimateUmol }),
    value: (estimateUmol ?? NaN) * share,
    unit: 'ppfd' as const,
    luxPerPpfd: null,
    date: null,
    note: '',
  }));
  return run(plan, addReadings, { readings });
}
const light = (plan: Plan) => {
  const { shelves, calibrations } = potLightOf(plan);
  const shelf = shelves.get('s1');
  return {
    source: shelf?.source,
    mean: shelf?.evenness?.mean ?? NaN,
    plusMinus: shelf?.uncertainty.plusMinusPercent ?? NaN,
    reason: shelf?.uncertainty.reason('metric') ?? '',
    calibration: calibrations.get('s1'),
  };
};
function lowered(plan: Plan, byMm: number): Plan {
  const lamps = plan.rack.shelves[0]?.lamps ?? [];
  const edits = lamps.map(({ id, zMm }) => ({ lampId: id, patch: { zMm: zMm - byMm } }));
  return run(plan, editLamps, { edits });
}
const unread = (plan: Plan): Plan => ({ ...plan, light: { ...plan.light, readings: [] } });

// What lamps give against their label belongs to the lamps, wherever they hang.
describe('readings after a change of lamps', () => {
  const before = metered(bare);
  const moved = lowered(before, 40);

  it('are carried over by their ratio to the estimate of then, marked, with a wider ±', () => {
    expect(light(before).source).toBe('calibrated');
    const now = light(moved);
    expect(now.source).toBe('carried over');
    const ratio = now.mean / light(unread(moved)).mean;
    expect(ratio).toBeCloseTo(light(before).mean / light(unread(before)).mean, 2);
    expect(ratio).toBeLessThan(0.83);
    expect(now.plusMinus).toBeGreaterThan(1.15 * light(before).plusMinus);
    expect(now.reason).toContain('the change since ±5 %');
    const said = noticesOf(moved).find(({ kind }) => kind === 'readings-outdated')?.text;
    expect(said).toContain('is carried over from them by ratio, ±');
    expect(outdatedReadingsOf(moved)).toHaveLength(4);
    expect(readingRowsOf(moved).map(({ checked }) => checked?.unusable)).toEqual(
      places.map(() => null),
    );
  });

  it('give way to one that is taken anew', () => {
    const [first] = withEstimates(moved, places);
    if (!first?.estimateUmol) throw new Error('an estimate is expected');
    const value = first.estimateUmol;
    const reading = {
      ...first,
      value,
      unit: 'ppfd' as const,
      luxPerPpfd: null,
      date: null,
      note: '',
    };
    const again = light(run(moved, addReadings, { readings: [reading] }));
    expect(again.source).toBe('calibrated');
    expect(again.calibration?.used).toBe(1);
    expect(again.mean / light(unread(moved)).mean).toBeCloseTo(1, 2);
  });

  it('without an estimate of then are left out, as they were', () => {
    const readings = moved.light.readings.map(({ estimateUmol: _, ...reading }) => reading);
    const old = { ...moved, light: { ...moved.light, readings } };
    expect(light(old).source).toBe('estimated');
  });

  it('that are said to hold still are of the lamps as they are, in value and estimate', () => {
    const readingIds = outdatedReadingsOf(moved);
    const estimates = new Map(readingIds.map((id) => [id, 100]));
    const kept = run(moved, keepReadings, { readingIds, estimates });
    expect(light(kept).source).toBe('calibrated');
    expect(kept.light.readings.map(({ estimateUmol }) => estimateUmol)).toEqual([
      100, 100, 100, 100,
    ]);
    const [reading] = moved.light.readings;
    const edited = run(moved, editReading, { readingId: reading?.id ?? '', patch: { value: 90 } });
    expect(edited.light.readings[0]?.estimateUmol).toBeUndefined();
  });
});

describe('readings in a next run', () => {
  const planted: Plan = { ...metered(drawnPlan()) };
  const grown = {
    ...planted,
    layout: planted.layout && { ...planted.layout, plantedAt: '2026-03-02' },
  };
  const second = run(grown, planRuns, { runs: 2, swappedFactorId: null });

  it('tell of the run that they were taken in, and are carried over into the next', () => {
    expect(second.light.readings.map(({ takenIn }) => takenIn)).toEqual(
      places.map(() => grown.runId),
    );
    expect(light(second).source).toBe('carried over');
    expect(light(second).plusMinus).toBeGreaterThan(light(planted).plusMinus);
    const readingIds = second.light.readings.map(({ id }) => id);
    expect(light(run(second, keepReadings, { readingIds })).source).toBe('calibrated');
  });

  it('stay unmarked where no run has been grown', () => {
    const two = run({ ...planted, layout: null }, planRuns, { runs: 2, swappedFactorId: null });
    expect(two.light.readings.every(({ takenIn }) => takenIn === undefined)).toBe(true);
  });
});
