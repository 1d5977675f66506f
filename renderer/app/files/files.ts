import type { Plan } from '../../../shared-types/plan';
import { nextTrialFrom } from '../../document/nextTrial';
import type { Host } from '../../host/host';
import type { Stores } from '../../store/context';
import type { Conflict, Settlement } from './ConflictDialog';
import { openActions, type OpenActions } from './opening';
import { saveActions, type SaveActions } from './saving';

/** What the person can do with files. Each answers null, or a sentence that says what went wrong. */
export type FileActions = OpenActions & SaveActions;

/**
 * `mayLeave` asks before unsaved work would go, `settle` what to do where somebody else has changed
 * the file, `next` what the trial after a plan takes over.
 */
export function fileActions(
  host: Host,
  stores: Stores,
  mayLeave: () => Promise<boolean>,
  settle: (conflict: Conflict) => Promise<Settlement>,
  next: (plan: Plan) => Promise<Plan> = (plan) => Promise.resolve(nextTrialFrom(plan)),
): FileActions {
  return {
    ...openActions(host, stores, mayLeave, next),
    ...saveActions(host, stores, settle),
  };
}
