import { describe, expect, it } from 'vitest';
import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import { floodFigures, floodNotices } from '../../../renderer/engine/flood';
import { siphon } from './pairs';
import { aFlood, aPlan, aTray, aZone } from './plans';

/**
 * A bare tray of 0.72 m²: 28.8 L to its crest at 40 mm, 34.67 L with 8.15 mm over the lip of its
 * overflow at 10 L/min. The pipe, 1 m of 40 mm bore, holds 1.257 L.
 */
const PIPE_L = (Math.PI / 4) * 1.6;
const bare = aTray({ grid: null });
const noUse = { uptakeMlPerPotDay: 0, evaporationMmDay: 0, topUpDays: 1 };

function flooded(zone: Partial<FloodZone>, use: FloodPlan['use'] = noUse, tray = bare) {
  const flood = aFlood({ zones: [aZone(zone)], use });
  const plan = aPlan(tray, flood);
  const figures = floodFigures(plan.rack, flood);
  const found = figures.trays.get('t11');
  const [whole] = figures.zones;
  if (!found || !whole) throw new Error('the tray has no figures');
  const notices = floodNotices(plan, figures);
  const told = (kind: string) => notices.find((n) => n.kind === kind)?.text;
  return { found, whole, told, kinds: notices.map((n) => n.kind) };
}

describe('a reservoir that runs dry', () => {
  it('ends the flood where its water is in the tray, and every verdict says that', () => {
    const { found, whole, told, kinds } = flooded({ reservoirL: 20 + PIPE_L, deadVolumeL: 5 });
    // 15 L over 0.72 m².
    expect(found.peakMm).toBeCloseTo(15 / 0.72, 6);
    expect(found.firstReachMm).toBeCloseTo(15 / 0.72, 6);
    expect(found.fillFirstS).toBeNull();
    expect(found.emptiedS).toBeCloseTo(90, 6);
    expect(whole.trays[0]?.course.every(({ depthMm }) => depthMm <= found.peakMm)).toBe(true);
    expect(told('never-fills')).toBe(
      'Tray 1A reaches 20.8 mm of 40 mm from dry: the reservoir is empty after 1.5 min, and the pump ' +
        'brings no more.',
    );
    expect(told('too-shallow')).toContain('floods to 20.8 mm: 26 % of the root zone');
    expect(told('reservoir-too-small')).toContain('It runs dry at 6:01 on the day before a top-up');
    expect(kinds).toEqual(['never-fills', 'too-shallow', 'reservoir-too-small']);
    // Nothing is told of a depth that the water does not reach, but the crest that it should.
    expect(told('reservoir-too-small')).not.toContain('draw air');
  });

  it('fills the tray with a tenth of a litre more than its crest needs, and not with one less', () => {
    const crest = (litres: number) => flooded({ reservoirL: 28.8 + litres + PIPE_L });
    expect(crest(-0.1).kinds).toContain('never-fills');
    expect(crest(-0.1).found.fillMargin).toBeNull();
    expect(crest(0.1).kinds).toEqual(['reservoir-too-small']);
    expect(crest(0.1).found.fillFirstS).toBeCloseTo(172.8, 6);
    expect(crest(0.1).found.peakMm).toBeCloseTo(28.9 / 0.72, 6);
  });

  it('lasts where all that is out is just in reach, and then no verdict speaks of running dry', () => {
    // 34.67 L are out at the highest water, and 2 L of dead volume.
    const at = (reservoirL: number) => flooded({ reservoirL, deadVolumeL: 2 });
    expect(at(34.7 + 2 + PIPE_L).whole.dry).toEqual([]);
    expect(at(34.7 + 2 + PIPE_L).told('reservoir-too-small')).not.toContain('dry');
    expect(at(34.6 + 2 + PIPE_L).whole.dry).not.toEqual([]);
    expect(at(34.6 + 2 + PIPE_L).told('reservoir-too-small')).toContain('It runs dry at 6:');
  });

  it('gives a tray no more to spill than it holds', () => {
    const zone = { drain: { kind: 'valve', boreMm: 20 } as const, reservoirL: 50 + PIPE_L };
    const once = [{ startHour: 6, endHour: 6, everyMinutes: 60, onMinutes: 60 }];
    const spilling = flooded({ ...zone, schedule: once });
    expect(spilling.found.spilledL).toBeCloseTo(50 - 43.2, 6);
    // A reservoir of just the rim keeps it from running over, and that is told.
    const full = flooded({ ...zone, schedule: once, reservoirL: 43.1 + PIPE_L });
    expect(full.found.spilledL).toBe(0);
    expect(full.told('overtops')).toContain('Only the empty reservoir keeps tray 1A from running');
    const ample = flooded({ ...zone, schedule: once, reservoirL: 2000 });
    // From the 2 mm that never drain 41.76 L go in; 600 L come.
    expect(ample.found.spilledL).toBeCloseTo(600 - 41.76, 6);
  });

  it('tells of the day before a top-up, where the first flood still came to the crest', () => {
    const { grid } = aTray();
    const pots = grid ? grid.rows * grid.columns : 0;
    const perPot = (litres: number) => (1000 * litres) / pots;
    const at = (usedL: number) =>
      flooded(
        { reservoirL: 45 + PIPE_L },
        { uptakeMlPerPotDay: perPot(usedL), evaporationMmDay: 0, topUpDays: 1 },
        aTray(),
      );
    expect(pots).toBeGreaterThan(0);
    // 34.67 L are out at the highest water: 45 L less 17 L are 28 L, and the crest needs 28.8 L.
    const short = at(17);
    expect(short.found.fillFirstS).not.toBeNull();
    expect(short.told('never-fills')).toContain('4 of 4 floods come to less, the least to 38.9 mm');
    expect(at(16).kinds).toEqual(['reservoir-too-small']);
    expect(at(16).found.short).toBeNull();
  });

  it('does not start a siphon that the water never gets to, and says that it stands', () => {
    const low = flooded({ ...siphon(), reservoirL: 20 + PIPE_L }, noUse);
    expect(low.found.siphon?.starts).toBe(false);
    expect(low.told('siphon-may-not-start')).toContain('but the reservoir is empty when the water');
    expect(low.kinds).toContain('never-drains');
    // 30.24 L fill it to 42 mm.
    expect(flooded({ ...siphon(), reservoirL: 30.3 + PIPE_L }).found.siphon?.starts).toBe(true);
  });

  it('holds the water of several trays together', () => {
    const trays = [0, 1].map((i) =>
      aTray({ id: `t${i}`, letter: 'AB'.charAt(i), grid: null, depthMm: 300 }),
    );
    const zone = aZone({ trayIds: ['t0', 't1'], reservoirL: 20 + PIPE_L });
    const flood = aFlood({ zones: [zone], use: noUse });
    const [shelf] = aPlan(bare, flood).rack.shelves;
    const rack = { ...aPlan(bare, flood).rack, shelves: shelf ? [{ ...shelf, trays }] : [] };
    const found = [...floodFigures(rack, flood).trays.values()];
    expect(found).toHaveLength(2);
    // 20 L over both, 0.36 m² each.
    for (const tray of found) expect(tray.peakMm).toBeCloseTo(20 / 0.72, 6);
  });
});
