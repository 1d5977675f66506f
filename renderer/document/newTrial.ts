import { type Trial } from '../../shared-types/trial/trial';
import { usualOfKind, type Measurement } from '../../shared-types/trial/measurement';

/** What is measured of plants, as the trade has it. */
export const usualMeasurements: readonly Pick<Measurement, 'name' | 'kind' | 'unit'>[] = [
  { name: 'fresh weight', kind: 'weight', unit: 'g' },
  { name: 'leaves', kind: 'count', unit: 'leaves' },
  { name: 'shoots', kind: 'count', unit: 'shoots' },
  { name: 'height', kind: 'length', unit: 'mm' },
  { name: 'score', kind: 'score', unit: '' },
  { name: 'leaf index', kind: 'index', unit: '' },
];

/** A measurement at one timepoint of the trial, with what its kind begins with. */
export function newMeasurement(
  id: string,
  name: string,
  timepoint: Measurement['timepoint'],
  kind: Measurement['kind'] = 'weight',
): Measurement {
  const { scale, ...usual } = usualOfKind[kind];
  return {
    id,
    name,
    kind,
    ...usual,
    timepoint,
    date: null,
    // What is measured at the start is compared with nothing yet.
    ...(scale && timepoint !== 'start' ? { scale } : {}),
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
