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

/** The same content on one line, in half the time: for copies that nobody reads or compares. */
export const writeCompact = (plan: Plan): string => JSON.stringify(toFile(plan));
