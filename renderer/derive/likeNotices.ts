import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { nameOf } from '../document/queries/names';
import { parseRef, type RefKind } from '../document/queries/refs';
import { list } from '../words';

/** What one flaw can be of many of; the question's own parts, such as factors, are told apart. */
const UNITS: readonly (RefKind | undefined)[] = [
  ...(['shelf', 'tray', 'pot', 'lamp', 'board'] as const),
  ...(['bay', 'zone', 'lampKind', 'reading'] as const),
];

/** Of so many like units the names are told; the references of all stand beside the text. */
const MOST_NAMED = 12;

/**
 * The same notices for a reader of lines: one flaw of many units of one kind is told once, with the
 * figures of the first, and lists the others. Others stand as they are, in their order.
 */
export function likeOnce(plan: Plan, notices: readonly Notice[]): Notice[] {
  const groups = new Map<string, [Notice, ...Notice[]]>();
  for (const notice of notices) {
    const key = likeness(notice);
    const known = groups.get(key);
    if (known) known.push(notice);
    else groups.set(key, [notice]);
  }
  return [...groups.values()].map(([first, ...others]) => {
    if (others.length === 0) return first;
    const about = [...new Set([first, ...others].flatMap((one) => one.about))];
    return {
      ...first,
      about,
      text: `${first.text} Likewise ${others.length} more: ${named(plan, others)}.`,
    };
  });
}

/** Alike are notices of one kind, weight and remedy on one unit each, all of one sort. */
function likeness(notice: Notice): string {
  const { kind, severity, remedy, accepted, about, text } = notice;
  const [ref = '', ...more] = about;
  const unit = parseRef(ref)?.kind;
  const sort = ref.startsWith('block:') ? 'block' : UNITS.includes(unit) ? unit : undefined;
  if (more.length > 0 || sort === undefined) return JSON.stringify(notice);
  const runs = /^Runs? [^:]*: /.exec(text)?.[0] ?? '';
  return JSON.stringify([kind, severity, remedy, accepted, sort, runs]);
}

function named(plan: Plan, others: readonly Notice[]): string {
  const names = others.map(({ about: [ref = ''] }) =>
    nameOf(plan, ref).replace(/^block:/, 'block '),
  );
  if (names.length <= MOST_NAMED) return list(names);
  return `${names.slice(0, MOST_NAMED).join(', ')} and ${names.length - MOST_NAMED} others`;
}
