import type { Command } from '../../command';
import { trialIn } from '../../edit';
import type { Blocks } from '../../../../shared-types/trial/scheme';

export const setBlocks: Command<{ blocks: Blocks }> = {
  name: 'setBlocks',
  label: ({ blocks }) =>
    blocks.by === 'none' ? 'Plan without blocks' : `Block by ${blocks.by.replaceAll('-', ' ')}`,
  run: (plan, { blocks }) => ({ ...plan, trial: { ...trialIn(plan), blocks } }),
};
