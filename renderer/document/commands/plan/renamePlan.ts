import type { Command } from '../../command';

export const renamePlan: Command<{ title: string }> = {
  name: 'renamePlan',
  label: ({ title }) => `Rename plan to ${title.trim()}`,
  run: (plan, { title }) => ({ ...plan, title: title.trim() }),
};
