import type { Measurement } from '../../shared-types/trial/measurement';
import { rackSchema } from '../../shared-types/rack';
import type { Rack } from '../../shared-types/rack';
import { trialSchema } from '../../shared-types/trial/trial';
import type { Factor, Trial } from '../../shared-types/trial/trial';
import type { TrialInput } from '../../renderer/engine/trial';
import { measuredPots } from '../../renderer/engine/trial';
import { gridOf, shelfOf, trayOf } from './rackParts';

interface RackShape {
  shelves: number;
  traysPerShelf: number;
  rows: number;
  columns: number;
  guardRing?: boolean;
}

/** A plain rack: trays side by side; shelf ids s1…, tray ids t101 (shelf 1, first tray)… */
export function rackOf(shape: RackShape): Rack {
  const pitchMm = 100;
  const trayWidthMm = shape.columns * pitchMm;
  return rackSchema.parse({
    lampKinds: [],
    shelves: Array.from({ length: shape.shelves }, (_, s) =>
      shelfOf({
        id: `s${s + 1}`,
        number: s + 1,
        widthMm: Math.min(20_000, shape.traysPerShelf * trayWidthMm + 100),
        depthMm: shape.rows * pitchMm + 50,
        heightMm: Math.min(20_000, 300 + 500 * s),
        canopy: { plantingMm: 100, harvestMm: 200 },
        reflectances: { above: 0.6, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 },
        trays: Array.from({ length: shape.traysPerShelf }, (_, t) =>
          trayOf({
            id: `t${100 * (s + 1) + t + 1}`,
            letter: 'ABCDEFGHJK'.charAt(t),
            xMm: t * trayWidthMm,
            widthMm: trayWidthMm,
            depthMm: shape.rows * pitchMm,
            grid: gridOf({
              rows: shape.rows,
              columns: shape.columns,
              pitchXMm: pitchMm,
              pitchYMm: pitchMm,
              potDiameterMm: 90,
              firstXMm: pitchMm / 2,
              firstYMm: pitchMm / 2,
              guardRing: shape.guardRing ?? false,
            }),
          }),
        ),
      }),
    ),
  });
}

export function factorOf(
  number: number,
  unit: Factor['unit'],
  levels: number,
  more: Partial<Factor> = {},
): Factor {
  return {
    id: `f${number}`,
    name: `Factor ${number}`,
    kind: 'randomised',
    unit,
    levels: Array.from({ length: levels }, (_, i) => ({
      id: `l${100 * number + i + 1}`,
      name: `Level ${i + 1}`,
    })),
    where: [],
    ...more,
  };
}

/** A factor whose levels, by their number, are drawn so many times where others are drawn once. */
export function withTimes(factor: Factor, times: Record<number, number>): Factor {
  const levels = factor.levels.map((level, i) => {
    const wanted = times[i + 1] ?? 1;
    return wanted === 1 ? level : { ...level, times: wanted };
  });
  return { ...factor, levels };
}

export function trialOf(factors: Factor[], more: Partial<Trial> = {}): Trial {
  return trialSchema.parse({
    question: '',
    factors,
    measurements: [],
    blocks: { by: 'none' },
    scheme: 'completely-randomised',
    constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
    startDate: null,
    harvestDate: null,
    alpha: 0.05,
    primaryOutcomeId: null,
    primaryIndex: 'final',
    primaryPosition: 'none',
    startCovariate: false,
    expected: null,
    ...more,
  });
}

export function inputOf(rack: Rack, trial: Trial, ppfdByPot?: Map<string, number>): TrialInput {
  return { rack, trial, ppfdByPot: ppfdByPot ?? new Map(), zones: [] };
}

/** Light that falls from the middle of a shelf to its ends by the stated share. */
export function domedLight(rack: Rack, fall: number): Map<string, number> {
  const width = new Map(rack.shelves.map((shelf) => [shelf.id, shelf.widthMm]));
  return new Map(
    measuredPots(rack).map((pot) => {
      const half = (width.get(pot.shelfId) ?? 1) / 2;
      return [pot.id, 200 * (1 - fall * ((pot.xMm - half) / half) ** 2)];
    }),
  );
}

/** 3 shelves as blocks, 3 trays each with its own nutrient strength, 4 cultivars within each tray. */
export function soundSplitPlot(): TrialInput {
  const rack = rackOf({ shelves: 3, traysPerShelf: 3, rows: 6, columns: 4 });
  const trial = trialOf([factorOf(1, 'tray', 3), factorOf(2, 'pot', 4)], {
    blocks: { by: 'shelf' },
    scheme: 'split-plot',
  });
  return inputOf(rack, trial, domedLight(rack, 0.1));
}

export const drawn = { drawnAt: '2026-03-01T09:00:00+00:00', engineVersion: 'test' };

/** A harvest weighed in grams, bounded by what a test says. */
export const harvestWeight = (more: Partial<Measurement> = {}): Measurement => ({
  id: 'm1',
  name: 'Weight',
  kind: 'weight',
  unit: 'g',
  decimals: 2,
  timepoint: 'harvest',
  date: '2026-03-30',
  lowest: null,
  highest: null,
  ...more,
});
