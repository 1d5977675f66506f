import { readFileSync } from 'node:fs';
import { readPlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial/trial';

/** One of the plans that come with the app: `basil` is sound, `two-lamps` has one shelf a lamp. */
export function example(name: 'basil' | 'two-lamps'): Plan & { trial: Trial } {
  const path = new URL(`../../renderer/app/examples/${name}.json`, import.meta.url);
  const read = readPlan(readFileSync(path, 'utf8'));
  if (!read.ok || !read.plan.trial) throw new Error(`${name} is a plan with a trial`);
  return { ...read.plan, trial: read.plan.trial };
}

/** The same without what was drawn, planted and recorded. */
export function undrawn(name: 'basil' | 'two-lamps'): Plan & { trial: Trial } {
  const records = { values: {}, second: {}, marks: {}, incidents: [] };
  return { ...example(name), layout: null, records, acceptedNotices: [] };
}
