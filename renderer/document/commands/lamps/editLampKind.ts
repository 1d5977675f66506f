import type { Command } from '../../command';
import { change, lampKindIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { LampKind } from '../../../../shared-types/rack';

export const editLampKind: Command<{ kindId: string; patch: Partial<Omit<LampKind, 'id'>> }> = {
  name: 'editLampKind',
  label: ({ kindId }, plan) => `Edit lamp kind ${nameOf(plan, refTo('lampKind', kindId))}`,
  run: (plan, { kindId, patch }) =>
    change(plan, (draft) => {
      const kind = lampKindIn(draft, kindId);
      Object.assign(kind, patch);
      kind.name = kind.name.trim();
    }),
};
