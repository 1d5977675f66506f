import type { Measurement, Trial } from '../../shared-types/trial';

/** A weight in grams at one timepoint of the trial. */
export function newMeasurement(
  id: string,
  name: string,
  timepoint: Measurement['timepoint'],
): Measurement {
  return {
    id,
    name,
    kind: 'weight',
    unit: 'g',
    decimals: 1,
    timepoint,
    date: null,
    lowest: 0,
    highest: null,
  };
}

/**
 * A trial with nothing compared yet: fresh weight at the start and at harvest, complete blocks by
 * tray, the best tenth of candidate draws.
 */
export function newTrial(ids: { start: string; harvest: string }, question: string): Trial {
  return {
    question,
    factors: [],
    measurements: [
      newMeasurement(ids.start, 'fresh weight', 'start'),
      newMeasurement(ids.harvest, 'fresh weight', 'harvest'),
    ],
    blocks: { by: 'tray' },
    scheme: 'complete-blocks',
    constraint: { acceptanceShare: 0.1, balance: ['light', 'position'], likeNeighbours: null },
    startDate: null,
    harvestDate: null,
    alpha: 0.05,
    primaryOutcomeId: ids.harvest,
    primaryIndex: 'final',
    primaryPosition: 'edge',
    startCovariate: true,
    expected: null,
  };
}
