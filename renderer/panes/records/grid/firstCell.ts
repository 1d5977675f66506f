import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import { refTo } from '../../../document/queries';
import type { CellPlace } from './rowView';

/**
 * Where the cursor begins: at the pot that is selected, else at the first one still open, in the
 * measurement that is under way. null: nothing is selected and nothing open.
 */
export function firstCell(
  { records }: Pick<Plan, 'records'>,
  pots: readonly Pot[],
  measurements: readonly Measurement[],
  selection: readonly string[],
): CellPlace | null {
  const { values, marks } = records;
  const isOpen = (pot: Pot, id: string) => !marks[pot.id] && values[id]?.[pot.id] === undefined;
  const column = measurements.find(({ id }) => pots.some((pot) => isOpen(pot, id)));
  const [only, ...more] = selection;
  const selected = more.length === 0 && pots.find(({ id }) => refTo('pot', id) === only);
  const at = column ?? measurements[0];
  if (selected && at) return { potId: selected.id, measurementId: at.id };
  const pot = column && pots.find((one) => isOpen(one, column.id));
  return pot && column ? { potId: pot.id, measurementId: column.id } : null;
}
