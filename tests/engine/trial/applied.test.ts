import { describe, expect, it } from 'vitest';
import { asApplied, trialPotsOf, type TrialInput } from '../../../renderer/engine/trial';
import { unitsOf } from '../../../renderer/engine/trial/units';
import type { Application, Factor } from '../../../shared-types/trial/trial';
import { factorOf, inputOf, rackOf, trialOf } from '../../builders/trialInput';

const rack = rackOf({ shelves: 4, traysPerShelf: 2, rows: 3, columns: 4 });
const zone = (n: number, ...trayIds: string[]) => ({ id: `z${n}`, name: `zone ${n}`, trayIds });
/** Each shelf has a reservoir. */
const byShelf = [1, 2, 3, 4].map((n) => zone(n, `t${n}01`, `t${n}02`));
/** Four trays on each of four shelves; the reservoirs feed one tray of every shelf. */
const wide = rackOf({ shelves: 4, traysPerShelf: 4, rows: 2, columns: 3 });
const acrossShelves = [1, 2, 3, 4].map((n) => zone(n, `t10${n}`, `t20${n}`, `t30${n}`, `t40${n}`));

const through = (application: Application, unit: Factor['unit'], number = 1): Factor => ({
  ...factorOf(number, unit, 2),
  appliedThrough: application,
});

const inputFor = (
  factors: Factor[],
  zones: TrialInput['zones'] = byShelf,
  on = rack,
): TrialInput => ({
  ...inputOf(on, trialOf(factors, { scheme: 'completely-randomised', blocks: { by: 'none' } })),
  zones,
});

const unitsFor = (factors: Factor[], zones?: TrialInput['zones']) =>
  unitsOf(inputFor(factors, zones));

describe('a factor is judged by what it is applied through', () => {
  it('water given tray by tray: four reservoirs, not eight trays', () => {
    const [water] = unitsFor([through('water', 'tray')]).factors;
    expect(water).toMatchObject({ unit: 'zone', unitCount: 4, errorDf: 2, stratum: 'reservoirs' });
  });

  it('water where every tray has its reservoir: eight trays', () => {
    const own = rack.shelves.flatMap((s) => s.trays).map((tray, i) => zone(i + 1, tray.id));
    const [water] = unitsFor([through('water', 'tray')], own).factors;
    expect(water).toMatchObject({ unit: 'tray', unitCount: 8, errorDf: 6 });
  });

  it('water where one reservoir feeds all: nothing tells the levels from it', () => {
    const all = [zone(1, ...byShelf.flatMap(({ trayIds }) => trayIds))];
    const [water] = unitsFor([through('water', 'pot')], all).factors;
    expect(water).toMatchObject({ unit: 'zone', unitCount: 1, replicated: false });
  });

  it('light given pot by pot: the lamps of four shelves', () => {
    const [light] = unitsFor([through('light', 'pot')]).factors;
    expect(light).toMatchObject({ unit: 'shelf', unitCount: 4, errorDf: 2 });
  });

  it('a medium, a plant or a hand reaches single pots; a factor of which nothing is said stays', () => {
    for (const application of ['medium', 'plant', 'hand'] as const) {
      expect(unitsFor([through(application, 'pot')]).factors[0]).toMatchObject({ unit: 'pot' });
    }
    expect(unitsFor([factorOf(1, 'tray', 2)]).factors[0]).toMatchObject({ unit: 'tray' });
  });

  it('a reservoir that serves two shelves is coarser than they are', () => {
    const twoShelves = [
      zone(1, ...['t101', 't102', 't201', 't202']),
      zone(2, 't301', 't302', 't401', 't402'),
    ];
    const { skeleton } = unitsFor(
      [through('water', 'tray'), through('light', 'shelf', 2)],
      twoShelves,
    );
    expect(skeleton.filter((row) => row.isError).map((row) => [row.stratum, row.df])).toEqual([
      ['reservoirs', 0],
      ['shelves', 0],
      ['pots', 92],
    ]);
  });

  // Four reservoirs across four shelves, two levels each: df of a strip plot of one block, rows 3,
  // columns 3, rows × columns 9 (Cochran & Cox 1957, Experimental Designs, ch. 7).
  it('where lamps and reservoirs cross, their interaction is judged where they meet', () => {
    const { skeleton, factors } = unitsOf(
      inputFor([through('water', 'tray'), through('light', 'shelf', 2)], acrossShelves, wide),
    );
    expect(factors.map((one) => [one.stratum, one.errorDf])).toEqual([
      ['reservoirs', 2],
      ['shelves', 2],
    ]);
    const cells = skeleton.filter((row) => row.stratum === 'cells');
    expect(cells.map((row) => [row.factorIds.length, row.df])).toEqual([
      [2, 1],
      [0, 8],
    ]);
    expect(skeleton.reduce((sum, row) => sum + row.df, 0)).toBe(95);
  });
});

describe('what was done already', () => {
  const pots = trialPotsOf(rack, byShelf);
  const placed = (levels: string): Factor => ({
    ...through('water', 'tray'),
    kind: 'fixed',
    where: pots
      .filter((pot) => pot.row === 1 && pot.column === 1)
      .map((pot, i) => ({ unitId: pot.trayId, levelId: `l10${levels.charAt(i)}` })),
  });
  const of = (factor: Factor) => asApplied(inputFor([factor]).trial, pots);

  it('is said of reservoirs where each has one level', () => {
    const { trial, shared } = of(placed('11221122'));
    expect(shared).toEqual([]);
    expect(trial.factors[0]).toMatchObject({
      unit: 'zone',
      where: [
        { unitId: 'z1', levelId: 'l101' },
        { unitId: 'z2', levelId: 'l102' },
        { unitId: 'z3', levelId: 'l101' },
        { unitId: 'z4', levelId: 'l102' },
      ],
    });
  });

  it('stays on its unit where a reservoir has two levels, and is told', () => {
    const { trial, shared } = of(placed('11221212'));
    expect(trial.factors[0]?.unit).toBe('tray');
    expect(shared).toMatchObject([{ carrier: 'zone', mixed: true }]);
    expect(shared[0]?.pots.map((own) => own[0]?.zoneId)).toEqual(['z3', 'z4']);
  });
});
