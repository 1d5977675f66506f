import type { Plan } from '../../../shared-types/plan';
import { Refusal } from '../command';
import { levelThat } from '../edit';

/** Refuses to part with a medium that a level of the trial puts into its pots. */
export function checkMediaInUse(plan: Plan, after: readonly { id: string }[]): void {
  const gone = (plan.flood?.media ?? []).find(({ id }) => !after.some((m) => m.id === id));
  if (!gone) return;
  const level = levelThat(plan, ({ settings }) => {
    return settings?.through === 'medium' && settings.mediumId === gone.id;
  });
  if (level) {
    throw new Refusal(`Level ${level.name} uses ${gone.name}; give it another medium first.`, {
      wayOn: 'level-settings',
    });
  }
}
