import type { Command } from '../../command';
import { change, checkPots } from '../../edit';
import { codeOfPot } from '../../queries/names';
import type { PotNote } from '../../../../shared-types/records';

/** Writes the note on a pot and the paths of files about it; an empty note goes. */
export const notePot: Command<{ potId: string; note: PotNote }> = {
  name: 'notePot',
  entersValues: true,
  label: ({ potId }, plan) => `Note on pot ${codeOfPot(plan, potId)}`,
  run: (plan, { potId, note }) => {
    const text = note.text.trim();
    const files = note.files.map((file) => file.trim()).filter((file) => file !== '');
    if (text !== '' || files.length > 0) checkPots(plan, [potId]);
    return change(plan, ({ records }) => {
      if (text !== '' || files.length > 0) (records.notes ??= {})[potId] = { text, files };
      else if (records.notes) Reflect.deleteProperty(records.notes, potId);
    });
  },
};
