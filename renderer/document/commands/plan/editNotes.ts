import type { Command } from '../../command';

export const editNotes: Command<{ notes: string }> = {
  name: 'editNotes',
  label: () => 'Edit notes',
  run: (plan, { notes }) => (notes === plan.notes ? plan : { ...plan, notes }),
};
