import { readFileSync } from 'node:fs';
import { readPlan } from '../../renderer/document/open';
import type { Plan } from '../../shared-types/plan';

/** The published radishes that come with the app: four basins, nothing compared, no lamps. */
export function radishes(): Plan {
  const path = new URL('../../renderer/app/examples/radishes.json', import.meta.url);
  const read = readPlan(readFileSync(path, 'utf8'));
  if (!read.ok) throw new Error('the example opens');
  return read.plan;
}
