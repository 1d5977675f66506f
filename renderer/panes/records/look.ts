import type { Notice, Severity } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../canvas/look';
import { ringedThings } from '../../derive';
import { measuredPotsOf } from '../../derive/recordNotices';
import { incidentRefs, measurementsInOrder } from '../../document/queries';

/** How much of each pot is recorded, and which plants are dead or missing. */
export function recordsLook(plan: Plan, notices: readonly Notice[]): RackLook {
  const potPaint = new Map<string, PotPaint>();
  const measurements = measurementsInOrder(plan);
  for (const { id } of measuredPotsOf(plan.rack, plan.layout)) {
    const mark = plan.records.marks[id];
    if (mark) {
      potPaint.set(id, {
        fill: '#d8d8d2',
        ink: '#17211f',
        mark: mark.mark === 'dead' ? 'dead' : mark.mark === 'missing' ? 'missing' : 'flagged',
      });
      continue;
    }
    const done = measurements.filter((m) => plan.records.values[m.id]?.[id] !== undefined).length;
    potPaint.set(id, PROGRESS[progressOf(done, measurements.length)]);
  }
  return { potPaint, ringed: withIncidents(plan, ringedThings(notices)), editable: false };
}

type Progress = 'none' | 'some' | 'all';

function progressOf(done: number, wanted: number): Progress {
  if (done === 0) return 'none';
  return done < wanted ? 'some' : 'all';
}

export const PROGRESS: Record<Progress, PotPaint> = {
  none: { fill: '#f7f5ee', ink: '#17211f' },
  some: { fill: '#b7cbe0', ink: '#17211f', pattern: 'level' },
  all: { fill: '#3f6f9c', ink: '#ffffff' },
};

/** A thing that an incident is logged for is ringed as a note, unless a worse ring is there. */
function withIncidents(
  plan: Plan,
  ringed: ReadonlyMap<string, Severity>,
): ReadonlyMap<string, Severity> {
  if (plan.records.incidents.length === 0) return ringed;
  const all = new Map(ringed);
  for (const incident of plan.records.incidents) {
    for (const ref of incidentRefs(plan, incident)) if (!all.has(ref)) all.set(ref, 'note');
  }
  return all;
}
