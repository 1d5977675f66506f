import type { Room } from '../../../../shared-types/rack';
import type { Command } from '../../command';
import { change } from '../../edit';

/** Says what room the racks stand in; null: none, and nothing comes back from it. */
export const setRoom: Command<{ room: Room | null }> = {
  name: 'setRoom',
  label: ({ room }) => (room ? 'Set the room' : 'Leave out the room'),
  run: (plan, { room }) =>
    change(plan, (draft) => {
      if (room) draft.rack.room = { ...room };
      else delete draft.rack.room;
    }),
};
