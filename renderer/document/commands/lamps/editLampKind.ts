import type { Command } from '../../command';
import { change, lampKindIn } from '../../edit';
import { outputWith } from '../../../engine/lamps';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { LampKind } from '../../../../shared-types/rack';

/** Changes figures of a lamp kind. Lumens that a photometric file gave stay when the file goes. */
export const editLampKind: Command<{ kindId: string; patch: Partial<Omit<LampKind, 'id'>> }> = {
  name: 'editLampKind',
  label: ({ kindId }, plan) => `Edit lamp kind ${nameOf(plan, refTo('lampKind', kindId))}`,
  run: (plan, { kindId, patch }) => {
    const { emission } = patch;
    const kept = emission ? { output: outputWith(lampKindIn(plan, kindId), emission) } : {};
    return change(plan, (draft) => {
      const kind = lampKindIn(draft, kindId);
      Object.assign(kind, kept, patch);
      kind.name = kind.name.trim();
    });
  },
};
