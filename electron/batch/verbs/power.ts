import { power } from '../../../renderer/engine/trial/power';
import { powerRequestSchema } from '../../../shared-types/power';
import { readJson } from '../inputs';
import type { Verb } from '../verb';

export const powerVerb: Verb = {
  name: 'power',
  gives: 'How surely a trial finds an effect, how many units that takes, or how small it may be.',
  takes: ['REQUEST'],
  options: {},
  async run(args) {
    return power(await readJson(args.positional('REQUEST'), powerRequestSchema, 'a power request'));
  },
};
