import { describe, expect, it } from 'vitest';
import { drawLayout, dealPlants, stream, substitutesFor } from '../../../renderer/engine/trial';
import type { Plant } from '../../../renderer/engine/trial';
import { drawn, factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 2, traysPerShelf: 1, rows: 4, columns: 6 });
const trial = trialOf([factorOf(1, 'pot', 4)], {
  blocks: { by: 'shelf' },
  scheme: 'complete-blocks',
});
const input = inputOf(rack, trial);

const plantsOf = (count: number): Plant[] => {
  const random = stream('plants', 'sizes');
  return Array.from({ length: count }, (_, i) => ({
    code: `P${i + 1}`,
    startValue: 5 + random.normal(),
  }));
};

describe('plants to pots', () => {
  it('gives every pot a plant and every treatment one plant of each size class', () => {
    const plants = plantsOf(48);
    const { layout, report } = drawLayout({ ...input, ...drawn, seed: 'size', plants });
    expect(new Set(layout.assignments.map((a) => a.plant)).size).toBe(48);
    expect(report.spares).toEqual([]);
    const rank = new Map(
      [...plants]
        .sort((a, b) => a.startValue - b.startValue)
        .map((plant, i) => [plant.code, i] as const),
    );
    for (const level of ['l101', 'l102', 'l103', 'l104']) {
      const classes = layout.assignments
        .filter((a) => a.levels.f1 === level)
        .map((a) => Math.floor((rank.get(a.plant ?? '') ?? 0) / 4))
        .sort((a, b) => a - b);
      expect(classes).toEqual(Array.from({ length: 12 }, (_, i) => i));
    }
  });

  it('leaves the treatments as they would be without plants', () => {
    const without = drawLayout({ ...input, ...drawn, seed: 'size' }).layout;
    const { layout } = drawLayout({ ...input, ...drawn, seed: 'size', plants: plantsOf(60) });
    expect(layout.assignments.map((a) => a.levels)).toEqual(
      without.assignments.map((a) => a.levels),
    );
  });

  it('keeps the most even plants and spares the extremes', () => {
    const plants = [
      ...plantsOf(48),
      { code: 'tiny', startValue: 0.1 },
      { code: 'huge', startValue: 30 },
    ];
    const { report } = drawLayout({ ...input, ...drawn, seed: 'spare', plants });
    expect(report.spares.sort()).toEqual(['huge', 'tiny']);
  });

  it('puts a plant only where the level it brings is wanted', () => {
    const plants = ['l101', 'l102', 'l103', 'l104'].flatMap((level) =>
      plantsOf(13).map((plant) => ({
        ...plant,
        code: `${level}-${plant.code}`,
        levels: { f1: level },
      })),
    );
    const { layout, report } = drawLayout({ ...input, ...drawn, seed: 'kinds', plants });
    for (const a of layout.assignments) expect(a.plant?.startsWith(a.levels.f1 ?? '?')).toBe(true);
    expect(report.spares).toHaveLength(4);
  });

  it('names a shortage, a code twice, a broken figure', () => {
    const { assignments } = drawLayout({ ...input, ...drawn, seed: 'x' }).layout;
    const place = (plants: Plant[]) => dealPlants(trial, assignments, plants, 'x');
    expect(() => place(plantsOf(40))).toThrow('40 were found for 48 pots');
    expect(() => place([...plantsOf(48), { code: 'P1', startValue: 5 }])).toThrow(
      'P1 was found twice',
    );
    expect(() => place([...plantsOf(48), { code: 'Q', startValue: NaN }])).toThrow('plant Q');
  });

  it('finds the spare plant nearest in size and of the same kind', () => {
    const spares: Plant[] = [
      { code: 'a', startValue: 4, levels: { f1: 'l101' } },
      { code: 'b', startValue: 5.2, levels: { f1: 'l101' } },
      { code: 'c', startValue: 5, levels: { f1: 'l102' } },
    ];
    const lost: Plant = { code: 'x', startValue: 5, levels: { f1: 'l101' } };
    const codes = (of: Plant) => substitutesFor(of, spares).map(({ code }) => code);
    expect(codes(lost)).toEqual(['b', 'a']);
    expect(codes({ ...lost, levels: { f1: 'l103' } })).toEqual([]);
  });
});
