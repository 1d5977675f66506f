import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { measurementLabel } from '../../document/queries/names';
import { disagreements, type Disagreement } from '../../document/queries/records';
import { refTo } from '../../document/queries/refs';
import { sayValue } from '../../document/records';
import type { Pot } from '../../engine/geometry';
import { noticesOfStage } from '../../words';

const notice = noticesOfStage('records');

/** Where a mark stands against a value or another mark; two values that differ are slips. */
export function entryNotices(plan: Plan, pots: readonly Pot[]): Notice[] {
  const { secondMarks, second } = plan.records;
  if (!secondMarks && Object.keys(second).length === 0) return [];
  return disagreements(plan, pots).flatMap((one): Notice[] => {
    if (one.kind === 'value' && typeof one.first === 'number') return [];
    const about = [refTo('pot', one.pot.id)];
    if (one.kind === 'value') about.push(refTo('measurement', one.measurement.id));
    return [
      notice(
        'double-entry-differs',
        'warn',
        about,
        textOf(one),
        'Look at the sheet or the plant, and settle it under “Second entry”.',
      ),
    ];
  });
}

function textOf(one: Disagreement): string {
  const { code } = one.pot;
  if (one.kind === 'state') {
    return `${code}: ${one.first?.mark ?? 'alive'} in the first entry, but ${one.second.mark} in the second.`;
  }
  const value = sayValue(one.second, one.measurement);
  return `${code}: ${one.first} in the first entry, but ${measurementLabel(one.measurement)} ${value} in the second.`;
}
