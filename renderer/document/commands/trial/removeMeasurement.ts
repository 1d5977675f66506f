import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, trialIn, measurementIn, removeById } from '../../edit';
import { forgetTrail } from '../../edits/trail';
import { nameOf, measurementLabel } from '../../queries/names';
import { runName, runsOf } from '../../runs';
import { refTo } from '../../queries/refs';

/** Removes a measurement. Refused while it holds values, unless they are to go with it. */
export const removeMeasurement: Command<{ measurementId: string; withValues?: boolean }> = {
  name: 'removeMeasurement',
  label: ({ measurementId }, plan) => `Remove ${nameOf(plan, refTo('measurement', measurementId))}`,
  run: (plan, { measurementId, withValues = false }) =>
    change(plan, (draft) => {
      const measurement = measurementIn(draft, measurementId);
      const { values, second, tare, days } = draft.records;
      const count = Object.keys({ ...values[measurementId], ...second[measurementId] }).length;
      if (count > 0 && !withValues) {
        throw new Refusal(
          `${measurementLabel(measurement)} has values of ${count} ${count === 1 ? 'pot' : 'pots'}.`,
        );
      }
      const other = runsOf(plan).find(
        (run) =>
          run.id !== plan.runId && Object.keys(run.records.values[measurementId] ?? {}).length > 0,
      );
      if (other) {
        throw new Refusal(
          `${measurementLabel(measurement)} has values in ${runName(plan, other.id)}; it stays as long as they stand.`,
        );
      }
      const trial = trialIn(draft);
      removeById(trial.measurements, measurementId);
      if (trial.primaryOutcomeId === measurementId) trial.primaryOutcomeId = null;
      draft.records.values = without(values, measurementId);
      draft.records.second = without(second, measurementId);
      if (days) draft.records.days = without(days, measurementId);
      forgetTrail(draft.records, measurementId);
      if (tare) draft.records.tare = without(tare, measurementId);
    }),
};

function without<T>(group: Record<string, T>, name: string): Record<string, T> {
  return Object.fromEntries(Object.entries(group).filter(([key]) => key !== name));
}
