import type { Command } from '../../command';
import { change } from '../../edit';
import { takeIdFrom } from '../../ids';
import { newLampKind } from '../../new';
import type { LampKind } from '../../../../shared-types/rack';

/** A model of lamp, with the stated figures instead of the usual ones. */
export const addLampKind: Command<{ kind?: Partial<Omit<LampKind, 'id'>> }> = {
  name: 'addLampKind',
  label: ({ kind }) => `Add lamp kind ${kind?.name ?? newLampKind('k0').name}`,
  run: (plan, { kind = {} }) =>
    change(plan, (draft) => {
      const made = { ...newLampKind(takeIdFrom(draft, 'lampKind')), ...kind };
      draft.rack.lampKinds.push({ ...made, name: made.name.trim() });
    }),
};
