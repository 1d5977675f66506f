import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Drain, FloodPlan, FloodZone, Slope } from '../../../shared-types/flood';
import { floodFigures } from '../../../renderer/engine/flood';
import { aFlood, aPlan, aTray, aZone } from './plans';
import { holeLMin, litresAt, tableOf, walk, type Pots } from './steps';

/**
 * Random zones against a water balance by small steps (steps.ts), which shares no code with the
 * engine. Steps and columns are coarse: agreement within one or two per cent is asked for, and no
 * more than a millimetre of depth.
 */
const runs = { numRuns: 30, seed: 20_260 };
const round = (low: number, high: number, digits = 1) =>
  fc.double({ min: low, max: high, noNaN: true }).map((v) => Number(v.toFixed(digits)));

const grids = fc.record({
  rows: fc.integer({ min: 1, max: 3 }),
  columns: fc.integer({ min: 1, max: 5 }),
  potDiameterMm: round(40, 110),
  potHeightMm: round(15, 120),
});

const slopes = fc.option(
  fc.record({
    trayId: fc.constant('t11'),
    rightMmPerM: round(-25, 25),
    backMmPerM: round(-25, 25),
    drainAt: fc.constantFrom('lowest' as const, 'middle' as const, 'highest' as const),
  }),
  { nil: undefined },
);

const drains: fc.Arbitrary<Drain> = fc.oneof(
  fc.record({
    kind: fc.constant('standpipe' as const),
    overflowBoreMm: round(30, 50),
    returnBoreMm: round(6, 25),
    returnThrough: fc.constantFrom('pump' as const, 'hole' as const),
  }),
  fc.record({
    kind: fc.constant('siphon' as const),
    boreMm: round(10, 24),
    dropMm: round(100, 400),
    lossFactor: round(0, 6),
    tripFlowLMin: fc.option(round(2, 20), { nil: null }),
  }),
  fc.record({ kind: fc.constant('valve' as const), boreMm: round(8, 25) }),
);

const cases = fc
  .record({
    grid: fc.option(grids, { nil: null }),
    slope: slopes,
    drain: drains,
    flowLMin: round(2, 20),
    floodDepthMm: round(15, 45),
    residualMm: round(1, 4),
    cd: round(0.58, 0.65, 2),
    porosity: round(0, 1, 2),
  })
  .map(({ grid, slope, drain, flowLMin, floodDepthMm, residualMm, cd, porosity }) => {
    const zone: Partial<FloodZone> = {
      drain,
      floodDepthMm,
      residualMm,
      dischargeCoefficient: cd,
      pump: { name: 'pump', powerW: 20, curve: [{ headM: 5, flowLMin }] },
      schedule: [{ startHour: 6, endHour: 6, everyMinutes: 60, onMinutes: 30 }],
    };
    const tray = aTray({
      rimHeightMm: 80,
      grid: grid && {
        ...aTray().grid,
        pattern: 'square' as const,
        ...grid,
        pitchXMm: 200,
        pitchYMm: 180,
        firstXMm: 120,
        firstYMm: 110,
        guardRing: false,
        guards: [],
        empty: [],
      },
    });
    return { tray, slope, porosity, zone: aZone(zone), flowLMin };
  });
type Case = typeof cases extends fc.Arbitrary<infer T> ? T : never;

/** What the engine reckons, and the table of volumes that the steps go by. */
function both({ tray, slope, porosity, zone }: Case) {
  const slopeList: Slope[] = slope ? [slope] : [];
  const flood: FloodPlan = aFlood({
    zones: [zone],
    slopes: slopeList,
    media: [
      {
        id: 'm9',
        name: 'any',
        porosity,
        dryDensityKgM3: 300,
        waterAtDrainShare: 0,
        trayIds: ['t11'],
      },
    ],
  });
  const found = floodFigures(aPlan(tray, flood).rack, flood).trays.get('t11');
  if (!found) throw new Error('the tray has no figures');
  const { grid } = tray;
  const at: [number, number][] = [];
  for (let r = 0; r < (grid?.rows ?? 0); r++) {
    for (let c = 0; c < (grid?.columns ?? 0); c++) at.push([120 + 200 * c, 110 + 180 * r]);
  }
  const pots: Pots = {
    at,
    diameterMm: grid?.potDiameterMm ?? 1,
    heightMm: grid?.potHeightMm ?? 1,
    pores: porosity,
  };
  return { found, table: tableOf(tray, slope, pots) };
}

/** Within 2 %, or a second where that is more: near a balance of flows times are ill determined. */
function alike(found: number, stepped: number) {
  expect(Math.abs(found - stepped)).toBeLessThanOrEqual(Math.max(1.5, 0.02 * stepped));
}

describe('random trays against small steps', () => {
  it('hold the same volume at crest and rim', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { found, table } = both(one);
        const crest = Math.min(one.zone.floodDepthMm, found.rimMm);
        expect(Math.abs(found.firstL - litresAt(table, crest))).toBeLessThan(0.05);
        expect(Math.abs(found.rimL - litresAt(table, found.rimMm))).toBeLessThan(0.05);
      }),
      runs,
    );
  });

  it('fill in the same time, with what leaks meanwhile', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { found, table } = both(one);
        const crest = Math.min(one.zone.floodDepthMm, found.rimMm);
        const from = found.vessel.first.emptyMm;
        const walked = walk({
          table,
          zone: one.zone,
          inflowLMin: one.flowLMin,
          fromMm: from,
          seconds: 4000,
          until: (mm) => mm >= crest - 0.05,
        });
        // What came in is in the tray or went out.
        expect(walked.inL - walked.outL - walked.overL - walked.changeL).toBeCloseTo(0, 6);
        if (found.fillFirstS === null) {
          expect(walked.seconds).toBeNull();
          return;
        }
        // Close to the balance of leak and inflow a tenth of a millimetre is a long time.
        const { drain, dischargeCoefficient: cd } = one.zone;
        const leaks = drain.kind === 'standpipe' && drain.returnThrough === 'hole';
        if (leaks && holeLMin(drain.returnBoreMm, cd, crest) > 0.8 * one.flowLMin) return;
        alike(found.fillFirstS, walked.seconds ?? NaN);
      }),
      runs,
    );
  });

  it('rise to the same height with the pump on, and spill or not', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { found, table } = both(one);
        const walked = walk({
          table,
          zone: one.zone,
          inflowLMin: one.flowLMin,
          // A siphon that does not start leaves the tray full to its crown from the day before.
          fromMm: found.siphon?.starts === false ? one.zone.floodDepthMm : one.zone.residualMm,
          seconds: 30 * 60,
        });
        const { siphon } = found;
        // A siphon near its limits may do either.
        if (siphon && Math.abs(one.flowLMin / siphon.fullAtCrestLMin - 1) < 0.05) return;
        expect(Math.abs(found.peakMm - walked.highestMm)).toBeLessThan(1);
        if (found.spills) expect(walked.highestMm).toBeGreaterThan(found.rimMm - 1);
        else expect(walked.overL).toBeLessThan(0.2);
        if (!siphon || siphon.starts === false) {
          if (siphon) expect(walked.tripped).toBe(false);
          return;
        }
        const reaches = found.fillLaterS !== null && found.fillLaterS < 25 * 60;
        if (!reaches) return;
        expect(walked.tripped).toBe(true);
        const nearBalance = Math.abs(one.flowLMin / siphon.fullAtBreakLMin - 1) < 0.15;
        if (!nearBalance) expect(walked.broke).toBe(siphon.breaks);
      }),
      runs,
    );
  });

  it('drain in the same time once the pump stands', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const { found, table } = both(one);
        if (found.siphon?.starts === false) {
          expect(found.drainS).toBeNull();
          return;
        }
        const top = found.peakMm;
        const walked = walk({
          table,
          zone: one.zone,
          inflowLMin: 0,
          fromMm: top,
          seconds: 6000,
          pulling: one.zone.drain.kind === 'siphon',
          until: (mm) => mm <= one.zone.residualMm + 1e-9,
        });
        expect(walked.inL - walked.outL - walked.changeL).toBeCloseTo(0, 6);
        alike(found.drainS ?? NaN, walked.seconds ?? NaN);
        // All that went out is what the tray holds less, but for the last step.
        const held = litresAt(table, top) - litresAt(table, one.zone.residualMm);
        expect(Math.abs(walked.outL - held)).toBeLessThan(0.2);
      }),
      runs,
    );
  });

  it('wet the same share of the root zone over a cycle', () => {
    fc.assert(
      fc.property(
        cases.filter(({ zone, slope }) => zone.drain.kind !== 'siphon' && slope === undefined),
        (one) => {
          const { found, table } = both(one);
          // One flood a day: wet is what stands during the run, the draining and the rest.
          const { residualMm } = one.zone;
          // Roots end at the rim of their pots.
          const root = Math.min(80, one.tray.grid?.potHeightMm ?? 80);
          const share = (mm: number) => Math.min(1, Math.max(0, mm) / root);
          let [sum, at] = [0, residualMm];
          const piece = (inflowLMin: number, seconds: number) => {
            for (let t = 0; t < seconds; t += 2) {
              const next = walk({
                table,
                zone: one.zone,
                inflowLMin,
                fromMm: at,
                seconds: 2,
                until: (mm) => inflowLMin === 0 && mm <= residualMm,
              }).depthMm;
              sum += share((at + next) / 2) * 2;
              at = next;
            }
          };
          piece(one.flowLMin, 1800);
          piece(0, 6000);
          sum += share(residualMm) * (86_400 - 7800);
          expect(Math.abs(found.wetMean - sum / 86_400)).toBeLessThan(0.002);
        },
      ),
      { ...runs, numRuns: 12 },
    );
  });
});

describe('several trays on one pump', () => {
  it('share its flow by what they need, and fill together', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(round(200, 900), round(200, 500)), { minLength: 2, maxLength: 4 }),
        round(4, 30),
        (sizes, flowLMin) => {
          const trays = sizes.map(([widthMm, depthMm], i) =>
            aTray({ id: `t${20 + i}`, letter: 'ABCD'.charAt(i), widthMm, depthMm, grid: null }),
          );
          const [first] = trays;
          if (!first) return;
          const ids = trays.map((tray) => tray.id);
          const zone = aZone({
            trayIds: ids,
            pump: { name: 'pump', powerW: 20, curve: [{ headM: 5, flowLMin }] },
          });
          const plan = aPlan(first, aFlood({ zones: [zone] }));
          const [shelf] = plan.rack.shelves;
          if (!shelf) return;
          const rack = { ...plan.rack, shelves: [{ ...shelf, trays }] };
          const figures = floodFigures(rack, aFlood({ zones: [zone] }));
          const found = [...figures.trays.values()];
          const sum = found.reduce((total, tray) => total + tray.inflowLMin, 0);
          expect(sum).toBeCloseTo(flowLMin, 9);
          // A H / Q of all of them at once.
          const areaM2 = sizes.reduce((total, [w, d]) => total + (w * d) / 1e6, 0);
          for (const tray of found) {
            expect((tray.fillFirstS ?? NaN) / ((60 * areaM2 * 40) / flowLMin)).toBeCloseTo(1, 6);
            // Each drains by its own return, by Torricelli: 4.3 of trade-facts.md.
            const { widthMm, depthMm } = tray.vessel.tray;
            const k = 0.61 * (Math.PI / 4) * 0.02 ** 2 * Math.sqrt(2 * 9.80665);
            const seconds =
              ((2 * widthMm * depthMm) / 1e6 / k) *
              (Math.sqrt(tray.peakMm / 1000) - Math.sqrt(0.002));
            expect((tray.drainS ?? NaN) / seconds).toBeCloseTo(1, 6);
          }
          expect(figures.zones[0]?.drawL).toBeGreaterThan(areaM2 * 40);
        },
      ),
      { ...runs, numRuns: 15 },
    );
  });
});
