import type { Plan } from '../../../../shared-types/plan';
import {
  leftOutOf,
  toValues,
  type TablePreview,
  type ValueToTake,
} from '../../../document/records';

/**
 * What taking a table over would do. `withOdd`: values outside the likely range come along;
 * `second`: the table is the second entry.
 */
export function importSummary(
  { records }: Pick<Plan, 'records'>,
  preview: Pick<TablePreview, 'cells' | 'rows' | 'problem'>,
  { withOdd, second }: { withOdd: boolean; second: boolean },
) {
  const taking = toValues(preview, withOdd);
  const recorded = second ? records.second : records.values;
  return {
    taking,
    count: taking.values.length + taking.secondValues.length,
    /** Nothing of it can be taken over. */
    nothing: preview.problem !== null || Object.values(taking).every((list) => list.length === 0),
    /** Values that stand in the records already, but as another figure. */
    changing: changesIn(recorded, taking.values) + changesIn(records.second, taking.secondValues),
    /** Values with a day of their own. */
    dated: taking.values.filter(({ day }) => day !== undefined).length,
    /** Values outside the likely range, which wait for a word. */
    odd: preview.cells.filter(({ outcome }) => outcome.kind === 'out-of-range').length,
    leftOut: leftOutOf(preview),
  };
}

function changesIn(recorded: Plan['records']['values'], taken: readonly ValueToTake[]): number {
  return taken.filter(({ measurementId, potId, value }) => {
    const was = recorded[measurementId]?.[potId];
    return was !== undefined && was !== value;
  }).length;
}
