import type { Plan } from '../../../../shared-types/plan';
import { hasSeveralRuns } from '../../../document/runs';
import { list } from '../../../words';
import { measurementLabel, measurementsInOrder } from '../../../document/queries';
import { columnParts, columnPartWords } from '../../../document/records';
import type { ColumnUse, TablePreview } from '../../../document/records';

/** Which columns of a long table are read, and which are not. */
export function longWords(columns: TablePreview['columns']): string {
  const names = (read: boolean) =>
    columns
      .filter(({ use }) => (use.use === 'long') === read)
      .map(({ name }) => name)
      .join(', ');
  const rest = names(false);
  return `A line for every pot and measurement. Read: ${names(true)}.${rest === '' ? '' : ` Not used: ${rest}.`}`;
}

/** Which measurement the trays of a sheet hold. */
export function whatMatrixBrings(plan: Plan, columns: TablePreview['columns']): string {
  const held = new Set(
    columns.flatMap(({ use }) => (use.use === 'measurement' ? use.measurementId : [])),
  );
  const names = measurementsInOrder(plan)
    .filter(({ id }) => held.has(id))
    .map(measurementLabel);
  return `Each tray as it stands on the rack. Read: ${names.length > 0 ? list(names) : 'nothing yet'}.`;
}

/** The choice that stands for a use. */
export function choiceOf(use: ColumnUse): string {
  return use.use === 'measurement' ? `m ${use.measurementId}` : use.use;
}

/** The use that a choice stands for; a measurement keeps the unit of the column's head. */
export function fromKey(key: string, was: ColumnUse): ColumnUse {
  const unit = 'unit' in was && was.unit !== undefined ? { unit: was.unit } : {};
  if (key.startsWith('m ')) return { use: 'measurement', measurementId: key.slice(2), ...unit };
  const part = columnParts.find((one) => one === key);
  return part ? { use: part } : { use: 'nothing' };
}

/** What a column can be read as. */
export function optionsFor(plan: Plan, use: ColumnUse): { value: string; label: string }[] {
  const parts = columnParts.filter((part) => part !== 'run' || hasSeveralRuns(plan));
  return [
    ...(use.use === 'ambiguous' ? [{ value: 'ambiguous', label: 'fits several: by its day' }] : []),
    { value: 'nothing', label: 'not used' },
    ...measurementsInOrder(plan).map((m) => ({ value: `m ${m.id}`, label: measurementLabel(m) })),
    ...parts.map((part) => ({ value: part, label: columnPartWords[part] })),
  ];
}
