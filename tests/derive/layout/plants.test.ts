import { describe, expect, it } from 'vitest';
import {
  drawFor,
  pilotSpread,
  placementOf,
  readPlantList,
  sizeClassesOf,
  sizeClassWords,
  sparePlantsOf,
  startMeasurementOf,
  substitutesInPot,
  verifyOf,
} from '../../../renderer/derive';
import { applyCommand } from '../../../renderer/document/apply';
import type { Command } from '../../../renderer/document/command';
import { keepLayout, placePlants, setPlants } from '../../../renderer/document/commands';
import type { Plan } from '../../../shared-types/plan';
import type { PlanPlant } from '../../../shared-types/plant';
import { undrawn } from '../../builders/examplePlans';

function after<Args>(plan: Plan, command: Command<Args>, args: Args): Plan {
  const outcome = applyCommand(plan, command, args);
  if (!outcome.ok) throw new Error(outcome.reason);
  return outcome.plan;
}

function drawn(plan: Plan, seed: string): Plan {
  const layout = drawFor(plan, seed, '2026-03-01T08:00:00Z');
  if (!layout.ok) throw new Error(layout.reason);
  return after(plan, keepLayout, { layout: layout.value });
}

describe('a list of plants', () => {
  const read = (text: string) => readPlantList(text, [], null);

  it('is read with any separator and decimal mark', () => {
    const wanted = [
      { code: 'B-1', startValue: 2.4 },
      { code: 'B-2', startValue: 3 },
    ];
    for (const text of [
      'B-1\t2.4\nB-2\t3',
      'B-1;2,4\nB-2;3,0',
      'plant,start\nB-1,2.4\nB-2,3',
      'B-1 2,4\r\nB-2 3,0\r\n',
    ]) {
      expect(read(text)).toEqual({ plants: wanted, problems: [] });
    }
  });

  it('gives codes to bare numbers, past those in use', () => {
    const known = [{ code: 'P2', startValue: 1 }];
    const { plants } = readPlantList('2,1\n2,2', known, null);
    expect(plants).toEqual([
      { code: 'P1', startValue: 2.1 },
      { code: 'P3', startValue: 2.2 },
    ]);
  });

  it('takes the level that a plant brings, and names every line it does not take', () => {
    const { trial } = undrawn('basil');
    const factors = trial.factors.map((f) =>
      f.name === 'cultivar' ? { ...f, kind: 'fixed' as const } : f,
    );
    const found = readPlantList('a 2.1 brookleaf\nb x\na 3\nc 4 oak', [], { ...trial, factors });
    expect(found.plants[0]?.levels).toEqual({ f54: 'v55' });
    expect(found.problems).toEqual([
      'Line 2: “x” is no number.',
      'Line 3: plant a is listed already.',
      'Line 4: “oak” is no level of a factor that plants bring.',
    ]);
  });
});

describe('plants to pots', () => {
  const basil = undrawn('basil');
  const plants = Array.from({ length: 220 }, (_, i) => ({
    code: `P${i + 1}`,
    startValue: 2 + ((i * 37) % 220) / 100,
  }));
  const listed = drawn(after(basil, setPlants, { plants }), 'plants');
  const placement = placementOf(listed);
  if (!placement.ok) throw new Error(placement.reason);
  const measurementId = startMeasurementOf(listed)?.id ?? null;
  const placed = after(listed, placePlants, { places: placement.value.places, measurementId });

  it('fills every pot and keeps the rest as spares', () => {
    expect(placement.value.places).toHaveLength(216);
    expect(sparePlantsOf(placed)).toHaveLength(4);
    const classes = sizeClassesOf(placed);
    expect(classes).toEqual({ classes: 18, perClass: 12, pots: 216, repeated: false });
    expect(classes && sizeClassWords(classes)).toContain(
      '18 classes of 12, one plant a treatment.',
    );
  });

  it('says of a level drawn several times that it takes several plants of a class', () => {
    const { trial, layout } = placed;
    const [feed] = trial?.factors ?? [];
    const [first] = feed?.levels ?? [];
    if (!trial || !layout || !feed || !first) throw new Error('basil has a drawn feed');
    // A quarter of the pots have each of two levels, the rest the first, which counts twice.
    const single = {
      ...feed,
      levels: feed.levels.map((l) => (l === first ? { ...l, times: 2 } : l)),
    };
    const [, second, third] = feed.levels;
    const cycle = [first, first, second, third];
    const assignments = layout.assignments.map((one, i) => ({
      ...one,
      levels: { [feed.id]: cycle[i % 4]?.id ?? '' },
    }));
    const of = (list: typeof assignments) =>
      sizeClassesOf({
        ...basil,
        trial: { ...trial, factors: [single] },
        layout: { ...layout, assignments: list },
      });
    const even = of(assignments);
    expect(even).toEqual({ classes: 54, perClass: 4, pots: 216, repeated: true });
    expect(even && sizeClassWords(even)).toContain('several where it is drawn several times');
    const uneven = of(assignments.slice(2));
    expect(uneven).toMatchObject({ classes: 54, perClass: null });
    expect(uneven && sizeClassWords(uneven)).toContain('not every class has a plant for each');
  });

  it('shares sizes evenly: means of treatments lie within one class of each other', () => {
    const startOf = new Map(plants.map((plant) => [plant.code, plant.startValue]));
    const sums = new Map<string, number[]>();
    for (const { levels, plant } of placed.layout?.assignments ?? []) {
      const key = Object.values(levels).join();
      sums.set(key, [...(sums.get(key) ?? []), startOf.get(plant ?? '') ?? Number.NaN]);
    }
    const means = [...sums.values()].map((v) => v.reduce((a, b) => a + b, 0) / v.length);
    expect(means).toHaveLength(12);
    // One plant of each class to every treatment: no two means differ by more than a class is wide.
    expect(Math.max(...means) - Math.min(...means)).toBeLessThanOrEqual(0.12);
  });

  it('leaves the layout one that can be drawn again', () => {
    expect(verifyOf(placed)).toEqual({ redrawn: true, differing: [], said: [] });
    const start = { acceptanceShare: 0.2, balance: ['start' as const], likeNeighbours: null };
    const balanced = drawn({ ...placed, trial: { ...basil.trial, constraint: start } }, 'again');
    expect(verifyOf(balanced)).toEqual({ redrawn: true, differing: [], said: [] });
  });

  it('ranks the spares by how near they are in size', () => {
    const [first] = placed.layout?.assignments ?? [];
    const own = plants.find((plant) => plant.code === first?.plant)?.startValue ?? 0;
    const gaps = (of: readonly PlanPlant[]) => of.map((spare) => Math.abs(spare.startValue - own));
    const found = substitutesInPot(placed, first?.potId ?? '');
    const all = gaps(sparePlantsOf(placed)).sort((a, b) => a - b);
    expect(gaps(found)).toEqual(all);
  });

  it('says how many plants are lacking', () => {
    const few = after(listed, setPlants, { plants: plants.slice(0, 10) });
    expect(placementOf(few)).toMatchObject({
      ok: false,
      reason: expect.stringContaining('10 were found for 216 pots') as string,
    });
  });
});

describe('the spread of a pilot', () => {
  it('is that of the textbook: calcium in turnip leaves, four plants by four determinations', () => {
    // Snedecor & Cochran 1989, Statistical Methods, 13.3: leaves within plant; σ² 0.0066, between 0.0724.
    const found = pilotSpread(
      '3.28 3.09 3.03 3.03\n3.52 3.48 3.38 3.38\n2.88 2.80 2.81 2.76\n3.34 3.38 3.23 3.26',
    );
    if ('missing' in found) throw new Error(found.missing);
    expect(found.plantSd ** 2).toBeCloseTo(0.0066, 4);
    expect(found.unitSd ** 2).toBeCloseTo(0.0724, 4);
  });

  it('is the same from a table with a row for each plant', () => {
    // The same leaves, as a spreadsheet would have them.
    const values =
      '3.28 3.09 3.03 3.03 3.52 3.48 3.38 3.38 2.88 2.80 2.81 2.76 3.34 3.38 3.23 3.26';
    const rows = values.split(' ').map((v, i) => `plant ${Math.floor(i / 4)};${i % 4};${v}`);
    const found = pilotSpread(['plant;leaf;calcium', ...rows].join('\n'));
    if ('missing' in found) throw new Error(found.missing);
    expect(found).toMatchObject({ lines: 4, columns: { unit: 'plant', value: 'calcium' } });
    expect(found.plantSd ** 2).toBeCloseTo(0.0066, 4);
    expect(found.unitSd ** 2).toBeCloseTo(0.0724, 4);
    expect(pilotSpread('weight\n1\n2\n4')).toMatchObject({ lines: 1, columns: { unit: null } });
    expect(pilotSpread('tray,colour\n1A,green\n1B,red')).toEqual({
      missing: 'No column holds numbers only; a column of values is expected.',
    });
  });

  it('gives how large the spread between lines may be where none showed', () => {
    const found = pilotSpread('3 5 4\n4 3 5\n5 4 3');
    if ('missing' in found) throw new Error(found.missing);
    expect(found.unitSd).toBe(0);
    expect(found.unitSdUpper).toBe(0);
    const uneven = pilotSpread('3 5 4 6\n4 3 5 5\n5 4 3 3.5');
    if ('missing' in uneven) throw new Error(uneven.missing);
    expect(uneven.unitSd).toBe(0);
    expect(uneven.unitSdUpper).toBeGreaterThan(0.5);
    expect(pilotSpread('3 5 4')).toMatchObject({ unitSdUpper: null });
  });

  it('says what is missing', () => {
    expect(pilotSpread('3.1\n3.2')).toHaveProperty('missing');
    expect(pilotSpread('3.1 x')).toEqual({ missing: 'Line 1: “x” is no number.' });
    expect(pilotSpread('3 3 3')).toHaveProperty('missing');
  });
});
