import { dateOf, daysBetween } from '../../../engine/calendar';
import type { Pot } from '../../../engine/geometry';
import { dateSchema } from '../../../../shared-types/basics';
import type { Plan } from '../../../../shared-types/plan';
import type { PotNote } from '../../../../shared-types/records';
import { isBlank, type NumberStyle } from '../../../tables';
import type { ColumnUse } from '../columns';
import { markIn } from '../marks';
import { valueOutcome, type CellOutcome } from './outcome';

/** What becomes of a cell of a table with a line a pot; null: it is none that is recorded. */
export function wideOutcome(
  plan: Plan,
  use: ColumnUse,
  text: string,
  pot: Pot | null,
  { style, day }: { style: NumberStyle; day: string },
): CellOutcome | null {
  const { use: kind } = use;
  switch (kind) {
    case 'nothing':
    case 'pot':
    case 'shelf':
    case 'tray':
    case 'row':
    case 'column':
    case 'plant':
    case 'run':
      return null;
    case 'date': {
      const fine = isBlank(text) || dateSchema.safeParse(text.trim()).success;
      return fine ? null : { kind: 'not-a-date' };
    }
    case 'mark':
    case 'note':
    case 'measurement':
    case 'ambiguous':
      break;
    default:
      return kind satisfies never;
  }
  if (isBlank(text)) return { kind: 'blank' };
  if (!pot) return { kind: 'no-pot' };
  if (kind === 'mark') {
    const mark = markIn(text);
    return mark ? { kind: 'mark', mark } : { kind: 'not-a-mark' };
  }
  if (kind === 'note') {
    return { kind: 'note', note: withNote(plan.records.notes?.[pot.id], text.trim()) };
  }
  if (use.use !== 'measurement' && use.use !== 'ambiguous') return null;
  const id =
    use.use === 'measurement' ? use.measurementId : measurementOn(plan, use.measurementIds, day);
  if (id === null) return { kind: 'several-measurements' };
  return dated(plan, id, day, valueOutcome(plan, id, text, pot.id, style, false, use.unit));
}

/** A value taken on another day than its measurement's bears it. */
function dated(plan: Plan, id: string, day: string, outcome: CellOutcome): CellOutcome {
  const isValue = outcome.kind === 'value' || outcome.kind === 'out-of-range';
  const measurement = plan.trial?.measurements.find((m) => m.id === id);
  const own = plan.trial && measurement ? dateOf(plan.trial, measurement) : null;
  return isValue && day !== own && dateSchema.safeParse(day).success
    ? { ...outcome, day }
    : outcome;
}

/** A measurement may take several days; a line further off than these is of none. */
const MOST_DAYS_OFF = 3;

/** Of several measurements that of a day: its own, else the nearest by a few days; null: none. */
function measurementOn(plan: Plan, ids: readonly string[], day: string): string | null {
  if (!dateSchema.safeParse(day).success) return null;
  const { trial } = plan;
  if (!trial) return null;
  const off = trial.measurements
    .flatMap((measurement) => {
      const date = ids.includes(measurement.id) ? dateOf(trial, measurement) : null;
      return date === null ? [] : [{ id: measurement.id, days: Math.abs(daysBetween(date, day)) }];
    })
    .sort((one, other) => one.days - other.days);
  const [nearest, next] = off;
  if (!nearest || nearest.days > MOST_DAYS_OFF || next?.days === nearest.days) return null;
  return nearest.id;
}

/** A note of the table stands behind what has been noted before. */
function withNote(was: PotNote | undefined, text: string): PotNote {
  if (!was || was.text === '') return { text, files: [...(was?.files ?? [])] };
  return was.text.includes(text) ? was : { ...was, text: `${was.text}; ${text}` };
}
