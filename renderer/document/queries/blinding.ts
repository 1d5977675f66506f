import type { Plan } from '../../../shared-types/plan';

/** The day since when treatments are shown as codes alone; null: they are shown. */
export const blindedSince = ({ records }: Pick<Plan, 'records'>): string | null =>
  records.blinded?.since ?? null;
