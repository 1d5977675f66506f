import { describe, expect, it } from 'vitest';
import { marksBetween, rulerStep } from '../../renderer/canvas/plane/ruler';

describe('ruler', () => {
  it('labels round millimetres at least 64 pixels apart', () => {
    expect(rulerStep(0.5, 'metric')).toEqual({ labelMm: 200, tickMm: 40 });
    expect(rulerStep(1, 'metric').labelMm).toBe(100);
  });

  it('labels inches and feet in the imperial system', () => {
    // At 0.5 px/mm a foot is 152.4 px and half a foot 76.2 px.
    expect(rulerStep(0.5, 'imperial').labelMm).toBeCloseTo(6 * 25.4, 9);
    expect(rulerStep(0.3, 'imperial').labelMm).toBeCloseTo(12 * 25.4, 9);
  });

  it('lists the marks of a stretch', () => {
    expect(marksBetween(-30, 100, 50)).toEqual([0, 50, 100]);
  });
});
