import { useEffect, useId, useMemo, useRef, useState, type ComponentProps } from 'react';
import { Stage } from 'react-konva';
import type { Notice } from '../../shared-types/notice';
import { isThing } from '../document/queries/refs';
import { useSession } from '../store/context';
import { ErrorBoundary } from '../ui/ErrorBoundary';
import { RackLayer } from './layers/RackLayer';
import { SelectionLayer } from './layers/SelectionLayer';
import { NOTHING_SHOWN } from './layers/show';
import type { RackLook } from './look';
import { describeSelection } from './plane/describe';
import { sceneOf } from './plane/scene';
import type { CanvasPort } from './canvasPort';
import { useCanvasPort } from './canvasPort';
import { NoShelf, sayView, SpokenWords } from './SpokenWords';
import { useColours } from './useColours';
import { pressKey } from './keys/keys';
import { MARKED_MS } from './showChange';
import { usePointer } from './pointer/usePointer';
import { useSize } from './useSize';
import { useKeyedTool } from './keys/useKeyedTool';
import { useKeyWords } from './keys/useKeyWords';
import { useSelectionInView } from './useSelectionInView';
import { useViewport } from './useViewport';
import { ZoomControls } from './ZoomControls';
import './canvas.css';

export interface RackCanvasProps {
  /** How the stage paints the rack. */
  look: RackLook;
  /** Told of the things that they are about. */
  notices?: readonly Notice[];
  /** A click of the tool `reading` on a shelf seen from above. */
  onPlace?: ((shelfId: string, xMm: number, yMm: number) => void) | undefined;
  /** Enter on the canvas; without it the first field inside `[data-inspector]` is focused. */
  onInspect?: (() => void) | undefined;
  /** What this second picture, beside the first, shows: it has no zoom buttons and announces nothing. */
  beside?: string | undefined;
}

/** The rack: the same canvas for every stage. Nothing is shown while no plan is open. */
export function RackCanvas(props: RackCanvasProps) {
  const room = useCanvasPort();
  return room ? <OpenRack {...props} room={room} /> : null;
}

function focusInspector(): void {
  const inspector = document.querySelector('[data-inspector]');
  const field = inspector?.querySelector<HTMLElement>(
    ':is(input, select, textarea):not(:disabled)',
  );
  // Where something is lacking, what to do next comes first.
  const next = inspector?.querySelector<HTMLElement>('.empty-actions button:not(:disabled)');
  const other = inspector?.querySelector<HTMLElement>('button:not(:disabled)');
  (next ?? field ?? other)?.focus();
}

const NO_NOTICES: readonly Notice[] = [];

function OpenRack(props: RackCanvasProps & { room: CanvasPort }) {
  const { look, notices = NO_NOTICES, room, onPlace, onInspect, beside } = props;
  const helpId = useId();
  const wrapper = useRef<HTMLDivElement>(null);
  const size = useSize(wrapper);
  const colours = useColours(wrapper);
  const [show, setShow] = useState(NOTHING_SHOWN);
  const [busy, setBusy] = useState(false);
  const [broken, setBroken] = useState<Error | null>(null);
  // The picture is a tree of its own, out of reach of what stands guard around this one.
  if (broken) throw broken;
  const { shown, view, shelfId, selection } = room;
  const lengths = shown.display.lengths;
  const { rack = shown.rack } = look;
  const scene = useMemo(() => sceneOf(rack, view, shelfId), [rack, view, shelfId]);
  const key = view === 'above' ? `above ${shelfId ?? ''}` : view;
  const control = useViewport(scene, size, key, busy);
  const told = useMemo(() => ({ scene, look, notices, lengths }), [scene, look, notices, lengths]);
  const pointer = usePointer({
    wrapper,
    room,
    scene,
    look,
    told,
    view: control,
    setShow,
    setBusy,
    onPlace,
  });
  const pointed = useSession((s) => s.pointed);
  const marked = useMarked();
  useDroppedSelection(room);
  useSelectionInView(room, scene, control, size);
  const keyed = useKeyedTool(room, scene, look.editable === true);
  const keyWords = useKeyWords(room, told, pointer.stackWords, keyed.words);

  const [only, ...more] = selection;
  const handlesFor =
    look.editable === true && room.tool === 'select' && more.length === 0 ? (only ?? null) : null;

  return (
    <div
      ref={wrapper}
      className="rack-canvas"
      tabIndex={0}
      role="application"
      aria-label={beside === undefined ? sayView(scene) : `${sayView(scene)}: ${beside}`}
      aria-describedby={helpId}
      data-testid={beside === undefined ? 'rack-canvas' : 'rack-canvas-beside'}
      data-view={view}
      data-shelf={view === 'above' ? (shelfId ?? '') : ''}
      data-scale={control?.viewport.scale ?? ''}
      data-origin-x={control?.viewport.originX ?? ''}
      data-origin-y={control?.viewport.originY ?? ''}
      style={{ cursor: pointer.cursor }}
      {...pointer.handlers}
      onPointerDownCapture={keyed.drop}
      onPointerMoveCapture={keyWords.onPointer}
      onFocus={keyWords.onFocus}
      onKeyDown={(event) => {
        if (event.target !== event.currentTarget) return;
        keyWords.onKey();
        const used = pressKey(
          {
            room,
            scene,
            look,
            view: control,
            keyed,
            cancelGesture: pointer.cancel,
            holdSpace: pointer.holdSpace,
            goUnder: pointer.goUnder,
            inspect: onInspect ?? focusInspector,
          },
          event,
        );
        if (used) {
          event.preventDefault();
          event.stopPropagation();
        }
      }}
      onKeyUp={(event) => {
        if (event.key === ' ') pointer.holdSpace(false);
      }}
      onBlur={() => {
        pointer.holdSpace(false);
        keyWords.onBlur();
      }}
    >
      {size && colours && control ? (
        <Picture
          {...{ scene, look, marked, size, colours, lengths }}
          selection={show.framed ?? selection}
          show={keyed.show ?? show}
          hovered={pointed}
          handlesFor={handlesFor}
          view={control.viewport}
          onBroken={setBroken}
        />
      ) : null}
      {scene.things.length === 0 && !keyed.show ? (
        <NoShelf editable={look.editable === true} />
      ) : null}
      {control && beside === undefined ? (
        <ZoomControls view={control} selection={selection} />
      ) : null}
      <SpokenWords
        helpId={helpId}
        selected={beside === undefined ? (keyed.words ?? describeSelection(told, selection)) : null}
      />
    </div>
  );
}

/** The rack and what lies over it; a broken layer is told, not drawn. */
function Picture(
  props: ComponentProps<typeof RackLayer> &
    ComponentProps<typeof SelectionLayer> & { onBroken: (error: Error) => void },
) {
  const { scene, look, size, view, colours, lengths } = props;
  const drawn = { scene, size, view, colours, lengths };
  return (
    <Stage width={size.width} height={size.height} listening={false}>
      <ErrorBoundary
        resetOn={[scene, look]}
        fallback={(error) => <Tell error={error} tell={props.onBroken} />}
      >
        <RackLayer {...drawn} look={look} />
        <SelectionLayer
          {...drawn}
          selection={props.selection}
          marked={props.marked}
          hovered={props.hovered}
          handlesFor={props.handlesFor}
          show={props.show}
        />
      </ErrorBoundary>
    </Stage>
  );
}

/** Hands an error of the picture to the tree around it; draws nothing. */
function Tell({ error, tell }: { error: Error; tell: (error: Error) => void }) {
  useEffect(() => tell(error), [error, tell]);
  return null;
}

/** What a button elsewhere has changed just now: it is forgotten after a moment. */
function useMarked(): readonly string[] {
  const marked = useSession((s) => s.marked);
  const mark = useSession((s) => s.mark);
  useEffect(() => {
    if (marked.length === 0) return undefined;
    const timer = setTimeout(() => mark([]), MARKED_MS);
    return () => clearTimeout(timer);
  }, [marked, mark]);
  return marked;
}

/** After an undo or a removal nothing stays selected that the rack no longer holds. */
function useDroppedSelection({ plan, selection, select }: CanvasPort): void {
  useEffect(() => {
    const here = new Set(
      plan.rack.shelves.flatMap((shelf) => [
        `shelf:${shelf.id}`,
        ...shelf.trays.map((tray) => `tray:${tray.id}`),
        ...shelf.lamps.map((lamp) => `lamp:${lamp.id}`),
        ...(shelf.boards ?? []).map((board) => `board:${board.id}`),
      ]),
    );
    const stays = selection.filter((ref) => !isThing(ref) || here.has(ref));
    if (stays.length < selection.length) select(stays);
  }, [plan.rack, selection, select]);
}
