import type { Plan } from '../../../../shared-types/plan';
import type { TextTable } from '../../../tables';
import { list } from '../../../words';
import { potsToMeasure } from '../../queries/records';
import {
  columnPartWords,
  columnParts,
  partNamed,
  type ColumnPart,
  type ColumnUse,
} from '../columns';

export const isMeasured = ({ use }: ColumnUse): boolean =>
  use === 'measurement' || use === 'ambiguous';

/**
 * Of several measurements of one name, the only one that is still to be recorded: where every other has
 * all its values, and no line of the table bears a day of its own.
 */
export function unrecorded(plan: Plan, use: ColumnUse, { columns }: TextTable): ColumnUse {
  if (use.use !== 'ambiguous' || columns.some((name) => partNamed(name) === 'date')) return use;
  const pots = potsToMeasure(plan);
  const recorded = (id: string) =>
    pots.filter((pot) => plan.records.values[id]?.[pot.id] !== undefined).length;
  const [open, ...others] = use.measurementIds.filter((id) => recorded(id) < pots.length);
  if (open === undefined || others.length > 0 || recorded(open) > 0) return use;
  const { measurementIds: _all, ...of } = use;
  return { ...of, use: 'measurement', measurementId: open };
}

/** Why the columns of a table do not say what it needs; null: they do. */
export function columnsFault(columns: readonly { name: string; use: ColumnUse }[]): string | null {
  if (columns.length === 1)
    return 'The table has one column only; choose what separates its columns.';
  for (const part of columnParts) {
    const both = columns.filter(({ use }) => use.use === part);
    if (both.length > 1) {
      return `${list(both.map(({ name }) => name))} are ${both.length > 2 ? 'all' : 'both'} taken for the ${columnPartWords[part]}.`;
    }
  }
  const has = (part: ColumnPart) => columns.some(({ use }) => use.use === part);
  if (!has('pot') && !has('plant') && !(has('tray') && has('row') && has('column'))) {
    return 'No column holds the codes of the pots, and none tray, row and column.';
  }
  const seen = new Map<string, string>();
  for (const { name, use } of columns) {
    if (use.use === 'ambiguous' && !has('date')) {
      return `Say which measurement the column ${name} holds.`;
    }
    if (use.use !== 'measurement') continue;
    const other = seen.get(use.measurementId);
    if (other !== undefined) return `${other} and ${name} are taken for the same measurement.`;
    seen.set(use.measurementId, name);
  }
  const useful = columns.some(
    ({ use }) => isMeasured(use) || use.use === 'mark' || use.use === 'note',
  );
  return useful ? null : 'No column holds a measurement of the trial.';
}
