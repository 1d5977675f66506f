import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../../renderer/document/apply';
import { editTray, editZone } from '../../../renderer/document/commands';
import { readPlan, writePlan } from '../../../renderer/document/open';
import { floodFigures, floodNotices } from '../../../renderer/engine/flood';
import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Tray } from '../../../shared-types/rack';
import { aFlood, aPlan, aTray, aZone } from './plans';

/** Everything reckoned about one tray, its words, and whether any figure of it is none. */
function reckon(tray: Tray, flood: FloodPlan) {
  const plan = { ...aPlan(tray, flood, { ratedKg: 100 }) };
  const figures = floodFigures(plan.rack, flood);
  const notices = floodNotices(plan, figures);
  const found = figures.trays.get(tray.id);
  if (!found) throw new Error('the tray has no figures');
  return { figures, found, notices, kinds: notices.map((n) => n.kind) };
}

function strangeFigure(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (value instanceof Map) return strangeFigure([...value.entries()], path);
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, part] of Object.entries(value)) {
    const found = strangeFigure(part, `${path}.${key}`);
    if (found) return found;
  }
  return null;
}

const edge = (...values: number[]) => fc.constantFrom(...values);

/** As far as a plan may go, and both ends of it. */
const extremes = fc.record({
  widthMm: edge(0.1, 1, 300, 20_000),
  depthMm: edge(0.1, 600, 20_000),
  rimHeightMm: edge(0.1, 60, 20_000),
  grid: fc.boolean(),
  potHeightMm: edge(0.1, 100, 20_000),
  potDiameterMm: edge(1, 100, 5000),
  pitchMm: edge(0.1, 110),
  floodDepthMm: edge(0.1, 40, 20_000),
  residualMm: edge(0, 2, 20_000),
  headM: edge(0, 1, 50),
  flowLMin: edge(0, 0.001, 10, 1000),
  levelMm: edge(-20_000, 200, 20_000),
  pipe: fc.record({ lengthM: edge(0, 3, 500), boreMm: edge(0.1, 20), lossFactor: edge(0, 1000) }),
  boreMm: edge(0.01, 20, 2000),
  drain: fc.constantFrom('pump', 'hole', 'siphon', 'valve'),
  tripFlowLMin: fc.option(edge(0.001, 8, 1000), { nil: null }),
  schedule: fc.array(
    fc.record({
      startHour: edge(0, 6.5, 24),
      endHour: edge(0, 6.5, 24),
      everyMinutes: edge(0.5, 60, 1440),
      onMinutes: edge(0.01, 15, 1440),
    }),
    { maxLength: 2 },
  ),
  slope: fc.option(
    fc.record({
      rightMmPerM: edge(-100, 0, 1e-6, 100),
      backMmPerM: edge(-100, 0, 100),
      drainAt: fc.constantFrom('lowest' as const, 'middle' as const, 'highest' as const),
    }),
    { nil: null },
  ),
  porosity: edge(0, 0.5, 1),
  waterAtDrainShare: edge(0, 1),
  rootZoneTopMm: edge(0, 80),
});
type Extreme = typeof extremes extends fc.Arbitrary<infer T> ? T : never;

function planOf(x: Extreme): { tray: Tray; flood: FloodPlan } {
  const { grid } = aTray();
  const tray = aTray({
    widthMm: x.widthMm,
    depthMm: x.depthMm,
    rimHeightMm: x.rimHeightMm,
    grid:
      grid && x.grid
        ? {
            ...grid,
            potHeightMm: x.potHeightMm,
            potDiameterMm: x.potDiameterMm,
            pitchXMm: x.pitchMm,
            pitchYMm: x.pitchMm,
          }
        : null,
  });
  const drain: FloodZone['drain'] =
    x.drain === 'siphon'
      ? {
          kind: 'siphon',
          boreMm: x.boreMm,
          dropMm: 300,
          lossFactor: 3,
          tripFlowLMin: x.tripFlowLMin,
        }
      : x.drain === 'valve'
        ? { kind: 'valve', boreMm: x.boreMm }
        : {
            kind: 'standpipe',
            overflowBoreMm: x.boreMm,
            returnBoreMm: x.boreMm,
            returnThrough: x.drain,
          };
  const zone: FloodZone = aZone({
    pump: { name: 'pump', powerW: 5, curve: [{ headM: x.headM, flowLMin: x.flowLMin }] },
    reservoirLevelMm: x.levelMm,
    floodDepthMm: x.floodDepthMm,
    residualMm: x.residualMm,
    pipe: x.pipe,
    schedule: x.schedule,
    drain,
  });
  const flood = aFlood({
    zones: [zone],
    rootZoneTopMm: x.rootZoneTopMm,
    slopes: x.slope ? [{ trayId: 't11', ...x.slope }] : [],
    media: [
      {
        id: 'm9',
        name: 'any',
        porosity: x.porosity,
        dryDensityKgM3: 300,
        waterAtDrainShare: x.waterAtDrainShare,
        trayIds: ['t11'],
      },
    ],
  });
  return { tray, flood };
}

const bare = aTray({ grid: null });
const every = (everyMinutes: number, onMinutes: number) => [
  { startHour: 0, endHour: 24, everyMinutes, onMinutes },
];

describe('hostile input', () => {
  it('gives figures or says that there are none, never a figure that is no number', () => {
    fc.assert(
      fc.property(extremes, (extreme) => {
        const { tray, flood } = planOf(extreme);
        const { figures, notices } = reckon(tray, flood);
        expect(strangeFigure(figures, 'figures')).toBeNull();
        for (const { text, remedy } of notices) {
          expect(`${text} ${remedy}`).not.toMatch(/NaN|Infinity|undefined|null/);
        }
      }),
      { numRuns: 150, seed: 4711 },
    );
  });

  it('says that a pump without flow brings nothing, whatever its head', () => {
    const pump = { name: 'old pump', powerW: 5, curve: [{ headM: 3, flowLMin: 0 }] };
    const { found, notices } = reckon(bare, aFlood({ zones: [aZone({ pump })] }));
    expect(found.inflowLMin).toBe(0);
    expect(notices.map((n) => n.kind)).toContain('pump-below-head');
    expect(notices.find((n) => n.kind === 'pump-below-head')?.text).toContain(
      'The curve of old pump has 0 L/min at every head',
    );
  });

  it('takes a curve of one point as a rated flow up to its head', () => {
    const at = (headM: number) => {
      const pump = { name: 'pump', powerW: 5, curve: [{ headM, flowLMin: 7 }] };
      return reckon(bare, aFlood({ zones: [aZone({ pump })] })).found.inflowLMin;
    };
    // Crest at 640 mm, reservoir at 200 mm: 0.44 m to lift, and next to nothing lost in the pipe.
    expect(at(0.45)).toBeCloseTo(7, 9);
    expect(at(0.43)).toBe(0);
  });

  it('refuses a curve on which flow rises with head, with its place', () => {
    const curve = [
      { headM: 0, flowLMin: 10 },
      { headM: 1, flowLMin: 20 },
    ];
    const pump = { name: 'pump', powerW: 5, curve };
    const plan = aPlan(bare, aFlood());
    const done = applyCommand(plan, editZone, { zoneId: 'z30', patch: { pump } });
    expect(done).toMatchObject({ ok: false });
    expect(done.ok ? '' : done.reason).toMatch(
      /zone 1.*curve.*found 20 L\/min at 1 m, expected at most the 10 L\/min/,
    );
    expect(() => reckon(bare, aFlood({ zones: [aZone({ pump })] }))).toThrow(
      /curve of pump: found 20 L\/min at 1 m but only 10 L\/min at 0 m; flow that falls/,
    );
  });

  it.each([
    [{ widthMm: 0 }, /Tray 1A, width \(mm\): found 0, expected/],
    [{ rimHeightMm: 0 }, /Tray 1A, rim height \(mm\): found 0, expected/],
  ])('refuses a tray without size: %o', (patch, words) => {
    const done = applyCommand(aPlan(bare, aFlood()), editTray, { trayId: 't11', patch });
    expect(done.ok ? '' : done.reason).toMatch(words);
  });

  it.each([
    ['porosity', 1.2],
    ['porosity', -0.1],
    ['waterAtDrainShare', 2],
    ['dryDensityKgM3', 0],
  ])('refuses a plan whose medium has %s %d', (field, value) => {
    const medium = {
      id: 'm9',
      name: 'any',
      porosity: 0.5,
      dryDensityKgM3: 300,
      waterAtDrainShare: 0.3,
      trayIds: ['t11'],
    };
    const plan = aPlan(bare, aFlood({ media: [{ ...medium, [field]: value }] }));
    const read = readPlan(writePlan(plan));
    expect(read.ok).toBe(false);
    expect(JSON.stringify(read)).toContain(field);
  });

  it('calls a pump that runs longer than its period one that never stops', () => {
    const { found, kinds, notices } = reckon(
      bare,
      aFlood({ zones: [aZone({ schedule: every(10, 15) })] }),
    );
    expect(found.continuous).toBe(true);
    expect(kinds).toContain('never-drains');
    expect(notices.find((n) => n.kind === 'never-drains')?.text).toContain('the pump never stops');
  });

  it('leaves no room beside pots that fill a tray wall to wall and take up nothing', () => {
    const { grid } = aTray();
    if (!grid) throw new Error('the sample tray has pots');
    const solid = (porosity: number) => ({
      id: 'm9',
      name: 'any',
      porosity,
      dryDensityKgM3: 300,
      waterAtDrainShare: 0,
      trayIds: ['t11'],
    });
    // 18 pots of 240 mm: 0.814 m² on 0.72 m².
    const tray = aTray({ grid: { ...grid, potDiameterMm: 240 } });
    expect(reckon(tray, aFlood({ media: [solid(0)] })).found.firstL).toBe(0);
    // All pores: as if no pot stood there, 28.8 L by trade-facts.md 4.1.
    expect(reckon(tray, aFlood({ media: [solid(1)] })).found.firstL).toBeCloseTo(28.8, 9);
  });

  it('says so where the crest lies over the rim, or under what never drains', () => {
    const over = reckon(bare, aFlood({ zones: [aZone({ floodDepthMm: 61 })] }));
    expect(over.notices.find((n) => n.kind === 'overtops')?.text).toContain(
      'The flood depth of tray 1A is set to 61 mm, but the rim is at 60 mm',
    );
    const under = reckon(bare, aFlood({ zones: [aZone({ floodDepthMm: 10, residualMm: 12 })] }));
    expect(under.notices.find((n) => n.kind === 'too-shallow')?.text).toContain(
      'is not above the 12 mm that never drain',
    );
  });

  it('takes a slope to the left as the mirror of one to the right', () => {
    const sloped = (rightMmPerM: number) =>
      reckon(
        bare,
        aFlood({
          slopes: [{ trayId: 't11', rightMmPerM, backMmPerM: 0, drainAt: 'lowest' }],
        }),
      ).found;
    const [left, right] = [sloped(-10), sloped(10)];
    expect(left.firstL).toBeCloseTo(right.firstL, 12);
    // 12 mm end to end, 40 mm at the deep end: trade-facts.md 4.1.
    expect(left.firstL).toBeCloseTo(24.48, 9);
    expect(left.drainS).toBeCloseTo(right.drainS ?? NaN, 9);
  });
});
