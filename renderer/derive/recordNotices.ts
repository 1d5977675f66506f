import type { Notice, NoticeKind, Severity } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { measurementLabel } from '../document/queries/names';
import { measuredPots, measurementsInOrder } from '../document/queries/records';
import { codeOfPot } from '../document/queries/names';
import { findSlips, type Slip } from '../document/records';

const slipKinds: Record<Slip['kind'], NoticeKind> = {
  'out-of-range': 'value-out-of-range',
  'far-from-neighbours': 'value-suspicious',
  'not-whole': 'value-suspicious',
  shrank: 'value-suspicious',
  'double-entry-differs': 'double-entry-differs',
};

/** What looks like a slip, is missing, or hangs on no pot in the records. */
export function recordNotices(plan: Plan): Notice[] {
  if (!plan.trial) return [];
  return [
    ...findSlips(plan).map((slip) =>
      notice(
        slipKinds[slip.kind],
        'warn',
        [`pot:${slip.potId}`],
        slip.text,
        'Look at the sheet or the plant; correct the value, or accept it with a reason.',
      ),
    ),
    ...missingNotices(plan),
    ...unknownPotNotices(plan),
  ];
}

/** A measurement that is begun and not finished; one not begun is simply still to come. */
function missingNotices(plan: Plan): Notice[] {
  const pots = measuredPots(plan);
  return measurementsInOrder(plan).flatMap((m) => {
    const values = plan.records.values[m.id] ?? {};
    const missing = pots.filter(
      (pot) => values[pot.id] === undefined && plan.records.marks[pot.id] === undefined,
    );
    if (missing.length === 0 || missing.length === pots.length) return [];
    const named = missing.slice(0, 4).map((pot) => pot.code);
    const more = missing.length > named.length ? ` and ${missing.length - named.length} more` : '';
    return [
      notice(
        'record-missing',
        'note',
        missing.map((pot) => `pot:${pot.id}`),
        `${measurementLabel(m)} is not recorded for ${missing.length} of ${pots.length} pots: ${named.join(', ')}${more}.`,
        'Record them, or mark the pots as dead or missing.',
      ),
    ];
  });
}

function unknownPotNotices(plan: Plan): Notice[] {
  const known = new Set(measuredPots(plan).map((pot) => pot.id));
  const unknown = new Set<string>();
  for (const values of Object.values(plan.records.values)) {
    for (const id of Object.keys(values)) if (!known.has(id)) unknown.add(id);
  }
  for (const id of Object.keys(plan.records.marks)) if (!known.has(id)) unknown.add(id);
  if (unknown.size === 0) return [];
  const named = [...unknown].slice(0, 4).map((id) => codeOfPot(plan, id));
  return [
    notice(
      'unknown-pot',
      'warn',
      ['plan'],
      `${unknown.size} recorded ${unknown.size === 1 ? 'pot is' : 'pots are'} not measured in this trial: ${named.join(', ')}.`,
      'They are guard pots, empty holes, or pots taken off the rack since; their values are kept but not analysed.',
    ),
  ];
}

function notice(
  kind: NoticeKind,
  severity: Severity,
  about: string[],
  text: string,
  remedy: string,
): Notice {
  return { kind, severity, stage: 'records', about, text, remedy };
}
