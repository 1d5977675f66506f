import { describe, expect, it } from 'vitest';
import { floodOf, wetDepthByPotOf } from '../../../renderer/derive/flood/flood';
import { emptyPlan } from '../../../renderer/document/new';
import { aFlood, aPlan, aTray } from '../../engine/flood/plans';

describe('what the flood derives', () => {
  it('gives every pot its depth under the level surface of the peak', () => {
    const slopes = [{ trayId: 't11', rightMmPerM: 5, backMmPerM: -3, drainAt: 'lowest' as const }];
    const plan = aPlan(aTray(), aFlood({ slopes }));
    const depths = wetDepthByPotOf(plan);
    const peak = floodOf(plan)?.trays.get('t11')?.peakMm ?? NaN;
    expect(depths.size).toBe(18);
    // Lowest is the back left corner; pot 1:1 stands 100 mm from the left and 500 from the back.
    expect(depths.get('t11:1:1')).toBeCloseTo(peak - 0.005 * 100 - 0.003 * 500, 9);
    expect(depths.get('t11:3:6')).toBeCloseTo(peak - 0.005 * 1100 - 0.003 * 100, 9);
  });

  it('remembers by identity and knows nothing of plans without flooding', () => {
    const plan = aPlan(aTray(), aFlood());
    expect(floodOf({ ...plan })).toBe(floodOf(plan));
    expect(wetDepthByPotOf({ ...plan, title: 'other' })).toBe(wetDepthByPotOf(plan));
    expect(floodOf(emptyPlan('dry'))).toBeNull();
    expect(wetDepthByPotOf(emptyPlan('dry')).size).toBe(0);
  });
});
