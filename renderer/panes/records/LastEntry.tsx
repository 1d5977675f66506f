import type { Plan } from '../../../shared-types/plan';
import { sayValue } from '../../document/records';
import type { Pot } from '../../engine/geometry';
import type { CellPlace } from './grid/rowView';

/** What was typed last and where the cursor stands, large enough to be read across the bench. */
export function LastEntry(props: {
  plan: Plan;
  pots: readonly Pot[];
  done: CellPlace | null;
  current: CellPlace | null;
  /** What has come to its end. */
  ended: string | null;
}) {
  const { plan, pots, done, current, ended } = props;
  const codeOf = (cell: CellPlace | null) => pots.find(({ id }) => id === cell?.potId)?.code;
  const [last, next] = [codeOf(done), codeOf(current)];
  if (!done || last === undefined) return null;
  const measurement = plan.trial?.measurements.find(({ id }) => id === done.measurementId);
  const value = plan.records.values[done.measurementId]?.[done.potId];
  const mark = plan.records.marks[done.potId]?.mark;
  const said = value === undefined || !measurement ? (mark ?? '–') : sayValue(value, measurement);
  return (
    <div className="last-entry" role="status" data-testid="last-entry">
      <span className="last-entry-pot">{last}</span>
      <strong className="last-entry-value">{said}</strong>
      <span className="last-entry-next">
        {ended === null ? null : <strong>{ended}. </strong>}
        {next === undefined || next === last ? '' : `Next ${next}`}
      </span>
    </div>
  );
}
