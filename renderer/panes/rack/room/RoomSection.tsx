import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { bind } from '../../../document';
import { duplicateRack, placeRack, setRoom } from '../../../document/commands';
import { racksInRoom } from '../../../engine/geometry';
import { Button, FieldRow, LengthField, Section } from '../../../ui';
import { useAct } from '../useAct';
import {
  besideAll,
  outlineOfRack,
  placedAt,
  quarterOn,
  rackName,
  type RackOfRoom,
} from './rackInRoom';
import { RoomFields } from './RoomFields';
import { RoomPlan } from './RoomPlan';
import { roomAround } from './roomAround';
import './room.css';

/** Where the racks stand in the room, and what the room gives back of their light. */
export function RoomSection({ plan }: { plan: Plan }) {
  const { rack, display } = plan;
  const act = useAct();
  const [chosenId, setChosenId] = useState<string | null>(null);
  const racks = racksInRoom(rack.shelves);
  const [first] = racks;
  if (!first) return null;
  const chosen = racks.find((one) => one.some(({ id }) => id === chosenId)) ?? first;
  const place = (one: RackOfRoom, at: ReturnType<typeof placedAt>) =>
    act(bind(placeRack, { shelfIds: one.map(({ id }) => id), place: at }));
  const { xMm, yMm } = outlineOfRack(chosen);
  const length = (
    label: string,
    testId: string,
    valueMm: number,
    onCommit: (mm: number) => void,
  ) => (
    <LengthField
      label={label}
      testId={testId}
      system={display.lengths}
      lowestMm={-20_000}
      highestMm={20_000}
      valueMm={valueMm}
      onCommit={onCommit}
    />
  );
  return (
    <Section title="Racks in the room" testId="room-section">
      <RoomPlan
        racks={racks}
        room={rack.room ?? null}
        chosen={chosen}
        onChoose={(one) => setChosenId(one[0].id)}
        onPlace={place}
      />
      <p className="field-remark">
        {rackName(chosen)}: drag, or move with the arrow keys; R turns. The thick edge is the front.
      </p>
      <FieldRow>
        {length('From the left', 'rack-left', xMm, (mm) =>
          place(chosen, placedAt(chosen, mm, yMm)),
        )}
        {length('From the front', 'rack-front', yMm, (mm) =>
          place(chosen, placedAt(chosen, xMm, mm)),
        )}
      </FieldRow>
      <div className="rack-buttons">
        <Button onClick={() => place(chosen, quarterOn(chosen))}>Turn by a quarter</Button>
        <Button
          data-testid="another-rack"
          onClick={() =>
            act(
              bind(duplicateRack, {
                shelfIds: chosen.map(({ id }) => id),
                place: besideAll(chosen, racks),
              }),
            )
          }
        >
          Another rack like this
        </Button>
        {rack.room ? (
          <Button onClick={() => act(bind(setRoom, { room: null }))}>Leave out the room</Button>
        ) : (
          <Button data-testid="add-room" onClick={() => act(roomAround(racks))}>
            Say what room it is
          </Button>
        )}
      </div>
      {rack.room ? (
        <RoomFields
          room={rack.room}
          lengths={display.lengths}
          onChange={(room) => act(bind(setRoom, { room }))}
        />
      ) : (
        <p className="field-remark">
          Without a room nothing that leaves the open sides comes back.
        </p>
      )}
    </Section>
  );
}
