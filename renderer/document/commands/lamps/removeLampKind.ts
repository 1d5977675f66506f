import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, lampKindIn, levelThat, removeById } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';

export const removeLampKind: Command<{ kindId: string }> = {
  name: 'removeLampKind',
  label: ({ kindId }, plan) => `Remove lamp kind ${nameOf(plan, refTo('lampKind', kindId))}`,
  run: (plan, { kindId }) => {
    const { name } = lampKindIn(plan, kindId);
    const shelf = plan.rack.shelves.find((s) => s.lamps.some((lamp) => lamp.kindId === kindId));
    if (shelf) {
      throw new Refusal(`${name} hangs over shelf ${shelf.number}; take its lamps down first.`);
    }
    const level = levelThat(plan, ({ settings }) => {
      return settings?.through === 'light' && settings.lampKindId === kindId;
    });
    if (level) {
      throw new Refusal(`Level ${level.name} uses ${name}; give it another lamp kind first.`, {
        wayOn: 'level-settings',
      });
    }
    return change(plan, (draft) => {
      removeById(draft.rack.lampKinds, kindId);
    });
  },
};
