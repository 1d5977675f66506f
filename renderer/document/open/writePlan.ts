import type { Plan } from '../../../shared-types/plan';
import { toFile } from './fileForm';

/** Groups whose names are ids and come in the order of typing; sorted, files can be compared. */
const SORTED = new Set(['values', 'second', 'marks', 'levels']);

const byId = new Intl.Collator('en', { numeric: true }).compare;

function sorted(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  const entries = Object.entries(value).sort(([a], [b]) => byId(a, b));
  return Object.fromEntries(entries.map(([key, item]) => [key, sorted(item)]));
}

/**
 * The plan as the text of its file: JSON, two spaces, one value a line, a newline at the end.
 * Equal plans give equal text, and `readPlan` gives the plan back.
 */
export function writePlan(plan: Plan): string {
  const text = JSON.stringify(
    toFile(plan),
    (key, value: unknown) => (SORTED.has(key) ? sorted(value) : value),
    2,
  );
  return `${text}\n`;
}

/** Parts that are written part by part; whatever else there is, is written as one. */
const PARTED = new Set(['records', 'values', 'second', 'trail', 'entered', 'enteredSecond']);

/**
 * The same content on one line, in less than half the time: for copies that nobody reads or compares.
 * It remembers the texts of parts that are still what they were: of a value typed among tens of
 * thousands only the column is written anew.
 */
export function compactWriter(): (plan: Plan) => string {
  let known = new Map<object, string>();
  return (plan) => {
    const used = new Map<object, string>();
    const textOf = (value: unknown, parted: boolean): string => {
      // An absent value is left out, as JSON has it.
      if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? '';
      const text =
        known.get(value) ??
        (parted ? grouped(value, ([name]) => PARTED.has(name)) : JSON.stringify(value));
      used.set(value, text);
      return text;
    };
    const grouped = (group: object, isParted: (entry: [string, unknown]) => boolean): string => {
      const parts = Object.entries(group).flatMap((entry: [string, unknown]) => {
        const text = textOf(entry[1], isParted(entry));
        return text === '' ? [] : [`${JSON.stringify(entry[0])}:${text}`];
      });
      return `{${parts.join(',')}}`;
    };
    const { runs, ...shared } = toFile(plan);
    const own = runs.map((run) => textOf(run, true)).join(',');
    const rest = grouped(shared, () => false);
    known = used;
    return `${rest.slice(0, -1)},"runs":[${own}]}`;
  };
}

export const writeCompact = (plan: Plan): string => compactWriter()(plan);
