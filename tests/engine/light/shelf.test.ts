import { describe, expect, it } from 'vitest';
import { evenness } from '../../../renderer/engine/light/evenness';
import { ppfdAtPoints, shelfField } from '../../../renderer/engine/light/field';
import { potLight } from '../../../renderer/engine/light/potLight';
import { kind, lamp, lightPlan, shelf, threeStrips, tray } from './racks';

// The "shelf check" of tests/reference/trade-facts.md, section 1.4 (its origin is the tray's centre).

const bay = threeStrips();
const kinds = [kind()];

describe('three strips over a tray', () => {
  it('at the named points', () => {
    const points = [
      [0, 0, 113.2498956],
      [0, 0.2, 93.72687957],
      [0.5, 0, 80.89106312],
      [0.55, 0.25, 51.52119042],
      [0.6, 0.3, 36.84867866],
    ] as const;
    const found = ppfdAtPoints(
      bay,
      kinds,
      points.map(([x, y]) => ({ xMm: 600 + 1000 * x, yMm: 300 + 1000 * y, zMm: 0 })),
    );
    points.forEach(([, , expected], i) => {
      expect(Math.abs((found[i] ?? 0) / expected - 1)).toBeLessThan(1.5e-9);
    });
  });

  it('over the 6 × 3 grid, row by row from the front', () => {
    const field = shelfField(bay, kinds, { heightMm: 0, gridMm: 200 });
    expect([field.columns, field.rows]).toEqual([6, 3]);
    expect([...field.xs]).toEqual([100, 300, 500, 700, 900, 1100]);
    const side = [67.02010504, 87.27165529, 93.16270127];
    const middle = [80.89106312, 105.5512859, 112.5875139];
    const expected = [side, middle, side].flatMap((row) => [...row, ...[...row].reverse()]);
    expected.forEach((value, i) => {
      expect(Math.abs((field.ppfd[i] ?? 0) / value - 1)).toBeLessThan(1.5e-9);
    });
    const e = evenness(field.ppfd);
    expect(e.mean).toBeCloseTo(88.21542068, 7);
    expect(e.minToMean).toBeCloseTo(0.7597323067, 9);
    expect(e.minToMax).toBeCloseTo(0.595271205, 9);
    expect(e.cvPercent).toBeCloseTo(16.93653811, 7);
  });

  it.each([
    [400, 300, 92.23785338],
    [100, 100, 86.58556932],
    [50, 50, 86.2289813],
  ])('mean over cells of %d mm', (gridMm, gridYMm, expected) => {
    const { ppfd, columns, rows } = shelfField(bay, kinds, { heightMm: 0, gridMm });
    if (gridMm === gridYMm) expect(evenness(ppfd).mean).toBeCloseTo(expected, 7);
    else {
      // 3 × 2 cells are not square: asked for point by point.
      expect([columns, rows]).toEqual([3, 2]);
      expect(evenness(ppfd).mean).toBeCloseTo(expected, 7);
    }
  });

  it('the true mean, and the share of the flux that lands on the tray', () => {
    const { mean } = evenness(shelfField(bay, kinds, { heightMm: 0, gridMm: 2.5 }).ppfd);
    expect(Math.abs(mean - 86.112)).toBeLessThan(0.001);
    expect(Math.abs((mean * 1.2 * 0.6) / 120 - 0.51667)).toBeLessThan(0.00001);
  });

  it('refuses a grid of nothing', () => {
    expect(() => shelfField(bay, kinds, { heightMm: 0, gridMm: 0 })).toThrow('grid of 0 mm');
    expect(() => shelfField(bay, kinds, { heightMm: -1, gridMm: 10 })).toThrow('canopy at -1 mm');
  });
});

describe('light at the pots', () => {
  it('gives every pot its PPFD and DLI, and sums up trays and shelves', () => {
    const light = potLight({ shelves: [bay], lampKinds: kinds }, lightPlan());
    expect(light.pots.size).toBe(18);
    const corner = light.pots.get('t1:1:1');
    expect(corner?.ppfdUmol).toBeCloseTo(67.02010504, 7);
    // DLI = PPFD · 3600 · hours · 10⁻⁶ (trade sheet, section 2).
    expect(corner?.dliMol).toBeCloseTo(67.02010504 * 0.0576, 7);
    expect(corner?.source).toBe('estimated');
    expect(light.trays.get('t1')?.evenness?.mean).toBeCloseTo(88.21542068, 7);
    expect(light.shelves.get('s1')?.evenness?.cvPercent).toBeCloseTo(16.93653811, 7);
  });

  it('takes the canopy height that the plan names', () => {
    const grown = { ...bay, canopy: { plantingMm: 0, harvestMm: 200 } };
    const rack = { shelves: [grown], lampKinds: kinds };
    const heights = (['planting', 'midway', 'harvest'] as const).map(
      (canopyAt) => potLight(rack, lightPlan({ canopyAt })).trays.get('t1')?.heightMm,
    );
    expect(heights).toEqual([0, 100, 200]);
  });

  it('judges guard pots apart', () => {
    const grid = tray().grid;
    const guarded = tray({ grid: grid ? { ...grid, guardRing: true } : null });
    const light = potLight(
      { shelves: [{ ...bay, trays: [guarded] }], lampKinds: kinds },
      lightPlan(),
    );
    const summary = light.trays.get('t1');
    expect(summary?.evenness?.n).toBe(18);
    expect(summary?.withoutGuards?.n).toBe(4);
    // The four inner pots of the middle row (trade sheet 1.4).
    expect(summary?.withoutGuards?.mean).toBeCloseTo((105.5512859 + 112.5875139) / 2, 7);
  });

  it('names a shelf whose lamps cannot be made sense of, and lights the others', () => {
    const broken = shelf({
      id: 's2',
      number: 2,
      lamps: [lamp({ id: 'l9', kindId: 'k9' })],
      trays: [tray({ id: 't2' })],
    });
    const light = potLight({ shelves: [bay, broken], lampKinds: kinds }, lightPlan());
    expect(light.problems.get('s2')?.('metric')).toContain('kind k9');
    expect(light.pots.size).toBe(18);
    expect(light.shelves.has('s2')).toBe(false);
  });
});
