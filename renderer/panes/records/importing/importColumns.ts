import type { Plan } from '../../../../shared-types/plan';
import { hasSeveralRuns } from '../../../document/runs';
import { measurementLabel, measurementsInOrder } from '../../../document/queries';
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

/** The choice that stands for a use. */
export function choiceOf(use: ColumnUse): string {
  return use.use === 'measurement' ? `m ${use.measurementId}` : use.use;
}

/** The use that a choice stands for. */
export function fromKey(key: string): ColumnUse {
  if (key.startsWith('m ')) return { use: 'measurement', measurementId: key.slice(2) };
  if (key === 'pot' || key === 'mark' || key === 'run') return { use: key };
  return { use: 'nothing' };
}

/** What a column can be read as. */
export function optionsFor(plan: Plan, use: ColumnUse): { value: string; label: string }[] {
  return [
    ...(use.use === 'ambiguous'
      ? [{ value: 'ambiguous', label: 'fits several: please choose' }]
      : []),
    { value: 'nothing', label: 'not used' },
    { value: 'pot', label: 'pot code' },
    { value: 'mark', label: 'dead or missing' },
    ...(hasSeveralRuns(plan) ? [{ value: 'run', label: 'run' }] : []),
    ...measurementsInOrder(plan).map((m) => ({ value: `m ${m.id}`, label: measurementLabel(m) })),
  ];
}
