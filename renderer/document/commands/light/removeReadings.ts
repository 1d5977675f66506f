import type { Command } from '../../command';
import { change, removeById } from '../../edit';

export const removeReadings: Command<{ readingIds: readonly string[] }> = {
  name: 'removeReadings',
  label: ({ readingIds }) =>
    readingIds.length === 1 ? 'Remove meter reading' : `Remove ${readingIds.length} meter readings`,
  run: (plan, { readingIds }) =>
    change(plan, (draft) => {
      for (const id of readingIds) removeById(draft.light.readings, id);
    }),
};
