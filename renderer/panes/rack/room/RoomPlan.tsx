import { useState, type KeyboardEvent, type PointerEvent } from 'react';
import type { RackPlace, Room } from '../../../../shared-types/rack';
import { boundsOf, standOf, type Rect } from '../../../engine/geometry';
import { outlineOfRack, placedAt, quarterOn, rackName, type RackOfRoom } from './rackInRoom';

const MARGIN_MM = 150;
/** What the pointer and the arrow keys move by; with Shift the keys move finely. */
const STEP_MM = 50;
const FINE_MM = 10;

interface Drag {
  rack: RackOfRoom;
  fromX: number;
  fromY: number;
  byX: number;
  byY: number;
}

/** The room from above, its front below: racks are moved by pointer or arrow keys, and turned by R. */
export function RoomPlan(props: {
  racks: readonly RackOfRoom[];
  room: Room | null;
  chosen: RackOfRoom | null;
  onChoose: (rack: RackOfRoom) => void;
  onPlace: (rack: RackOfRoom, place: RackPlace) => void;
}) {
  const { racks, room, chosen, onChoose, onPlace } = props;
  const [drag, setDrag] = useState<Drag | null>(null);
  const walls = room && { xMm: 0, yMm: 0, widthMm: room.widthMm, depthMm: room.depthMm };
  const shown = boundsOf([...racks.map(outlineOfRack), ...(walls ? [walls] : [])]);
  const view = {
    left: shown.xMm - MARGIN_MM,
    top: -(shown.yMm + shown.depthMm) - MARGIN_MM,
    width: shown.widthMm + 2 * MARGIN_MM,
    height: shown.depthMm + 2 * MARGIN_MM,
  };
  const down = (event: PointerEvent<SVGGElement>, rack: RackOfRoom) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    onChoose(rack);
    setDrag({ rack, fromX: event.clientX, fromY: event.clientY, byX: 0, byY: 0 });
  };
  const move = (event: PointerEvent<SVGGElement>) => {
    const scale = event.currentTarget.getScreenCTM()?.a;
    if (!drag || scale === undefined || scale === 0) return;
    const outline = outlineOfRack(drag.rack);
    const stepped = (at: number, by: number) => Math.round((at + by) / STEP_MM) * STEP_MM - at;
    const [x, y] = [(event.clientX - drag.fromX) / scale, (drag.fromY - event.clientY) / scale];
    const far = Math.hypot(x, y) * scale > 3;
    setDrag({
      ...drag,
      byX: far ? stepped(outline.xMm, x) : 0,
      byY: far ? stepped(outline.yMm, y) : 0,
    });
  };
  const up = () => {
    if (drag && (drag.byX !== 0 || drag.byY !== 0)) {
      const { xMm, yMm } = outlineOfRack(drag.rack);
      onPlace(drag.rack, placedAt(drag.rack, xMm + drag.byX, yMm + drag.byY));
    }
    setDrag(null);
  };
  return (
    <svg
      className="room-plan"
      data-testid="room-plan"
      role="group"
      aria-label="The room from above, its front below"
      viewBox={`${view.left} ${view.top} ${view.width} ${view.height}`}
    >
      {walls ? <Wall {...walls} /> : null}
      {racks.map((rack) => (
        <g
          key={rack[0].id}
          className="room-rack"
          tabIndex={0}
          role="button"
          aria-pressed={rack === chosen}
          aria-label={`${numbersOf(rack)}: rack of ${rackName(rack).toLowerCase()}. Arrow keys move it, R turns it.`}
          data-testid={`rack-${rack[0].number}`}
          transform={drag?.rack === rack ? `translate(${drag.byX} ${-drag.byY})` : undefined}
          onPointerDown={(event) => down(event, rack)}
          onPointerMove={move}
          onPointerUp={up}
          onPointerCancel={() => setDrag(null)}
          onFocus={() => onChoose(rack)}
          onKeyDown={(event) => {
            const place = placeByKey(event, rack);
            if (!place) return;
            event.preventDefault();
            onPlace(rack, place);
          }}
        >
          <RackOutline rack={rack} chosen={rack === chosen} unit={view.width / 100} />
        </g>
      ))}
    </svg>
  );
}

function placeByKey(event: KeyboardEvent, rack: RackOfRoom): RackPlace | null {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  const { xMm, yMm } = outlineOfRack(rack);
  const step = event.shiftKey ? FINE_MM : STEP_MM;
  switch (event.key) {
    case 'ArrowLeft':
      return placedAt(rack, xMm - step, yMm);
    case 'ArrowRight':
      return placedAt(rack, xMm + step, yMm);
    case 'ArrowUp':
      return placedAt(rack, xMm, yMm + step);
    case 'ArrowDown':
      return placedAt(rack, xMm, yMm - step);
    case 'r':
    case 'R':
      return quarterOn(rack);
    default:
      return null;
  }
}

const Wall = ({ xMm, yMm, widthMm, depthMm }: Rect) => (
  <rect className="room-wall" x={xMm} y={-yMm - depthMm} width={widthMm} height={depthMm} />
);

/** The numbers of the rack's shelves, as they stand in its outline. */
const numbersOf = (rack: RackOfRoom): string =>
  rackName(rack)
    .replace(/^Shel(f|ves) /, '')
    .replace(' to ', '–')
    .replace(' and ', ', ');

/** The thick edge is the front, where one stands. */
function RackOutline({ rack, chosen, unit }: { rack: RackOfRoom; chosen: boolean; unit: number }) {
  const { xMm, yMm, widthMm, depthMm } = outlineOfRack(rack);
  const [left, right, bottom, top] = [xMm, xMm + widthMm, -yMm, -yMm - depthMm];
  const fronts = {
    0: [left, bottom, right, bottom],
    90: [right, bottom, right, top],
    180: [left, top, right, top],
    270: [left, bottom, left, top],
  } as const;
  const [x1, y1, x2, y2] = fronts[standOf(rack[0]).turnDeg];
  const words = numbersOf(rack);
  return (
    <>
      <rect
        className="room-rack-outline"
        data-chosen={chosen || undefined}
        x={left}
        y={top}
        width={widthMm}
        height={depthMm}
      />
      <line className="room-rack-front" {...{ x1, y1, x2, y2 }} />
      <text
        x={(left + right) / 2}
        y={(top + bottom) / 2}
        fontSize={Math.min(6 * unit, 0.6 * depthMm, (1.5 * widthMm) / words.length)}
      >
        {words}
      </text>
    </>
  );
}
