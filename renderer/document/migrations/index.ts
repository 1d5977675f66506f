import type { MigrationStep } from './migrate';
import { toRuns } from './toRuns';

export { migrate } from './migrate';
export type { Migrated, MigrationStep, RawPlan } from './migrate';

/** Version 1 is the first format that plans were saved in. */
export const OLDEST_VERSION = 1;

/** One step for every version from the oldest up to the one before the current. */
export const migrationSteps: readonly MigrationStep[] = [toRuns];
