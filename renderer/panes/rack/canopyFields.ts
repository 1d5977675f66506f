import type { Canopy } from '../../../shared-types/rack';
import type { FieldOf } from '../../ui';

/** The two heights of a canopy, of a shelf or of one tray. */
export function canopyFields(testId: string): readonly FieldOf<Canopy>[] {
  return [
    {
      as: 'length',
      key: 'plantingMm',
      label: 'At planting',
      lowestMm: 0,
      testId: `${testId}-planting`,
      usual: { of: 'Canopies', fromMm: 0, toMm: 1000 },
    },
    {
      as: 'length',
      key: 'harvestMm',
      label: 'At harvest',
      lowestMm: 0,
      testId: `${testId}-harvest`,
      usual: { of: 'Canopies', fromMm: 0, toMm: 1500 },
    },
  ];
}
