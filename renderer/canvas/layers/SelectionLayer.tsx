import type { Group as GroupNode } from 'konva/lib/Group';
import { useEffect, useRef } from 'react';
import { Circle, Group, Layer, Line, Rect, Shape } from 'react-konva';
import { handleBox, handlePixel, handlesOf, shownHandles } from '../gestures/resizeArithmetic';
import type { CanvasColours } from '../paint/colours';
import { paintGuides } from '../paint/guides';
import { paintTrayTags } from '../paint/trayTags';
import { pixelRect } from '../paint/pen';
import type { Box } from '../plane/box';
import { outlineOf } from '../plane/scene';
import { fromAbove } from '../plane/things';
import type { Scene } from '../plane/scene';
import type { PixelSize, Viewport } from '../plane/viewport';
import { toPixel } from '../plane/viewport';
import { isStill, MARKED_MS } from '../showChange';
import type { GestureShow } from './show';
import type { UnitSystem } from '../../words';

/** Selected things as real nodes, over the rack: outlines, handles, the frame and guides of a drag. */
export function SelectionLayer(props: {
  scene: Scene;
  selection: readonly string[];
  marked: readonly string[];
  hovered: string | null;
  handlesFor: string | null;
  show: GestureShow;
  view: Viewport;
  size: PixelSize;
  colours: CanvasColours;
  lengths: UnitSystem;
}) {
  const { scene, view, colours, show, size, lengths } = props;
  const hovered =
    props.hovered !== null && !props.selection.includes(props.hovered) ? props.hovered : null;
  const outlined = hovered === null ? props.selection : [...props.selection, hovered];
  return (
    <Layer listening={false}>
      {hovered ? (
        <Outline scene={scene} of={hovered} view={view} colours={colours} look="pointed" />
      ) : null}
      {props.selection.map((ref) => (
        <Outline key={ref} scene={scene} of={ref} view={view} colours={colours} look="selected" />
      ))}
      {outlined.some((ref) => scene.byRef.get(ref)?.kind === 'tray') ? (
        // The outline would strike through the code on a tray's edge.
        <Shape
          listening={false}
          sceneFunc={(context) =>
            paintTrayTags({ ctx: context._context, view, size, colours, lengths }, scene, outlined)
          }
        />
      ) : null}
      {props.marked.length > 0 ? <Marks of={props.marked} {...{ scene, view, colours }} /> : null}
      {props.handlesFor ? (
        <Handles scene={scene} of={props.handlesFor} view={view} colours={colours} />
      ) : null}
      {show.frame ? <Frame frame={show.frame} view={view} colours={colours} /> : null}
      {show.guides.length > 0 ? (
        <Shape
          listening={false}
          sceneFunc={(context) =>
            paintGuides({ ctx: context._context, view, size, colours, lengths }, show.guides)
          }
        />
      ) : null}
    </Layer>
  );
}

/** How an outline stands out: dashed and thin what is pointed at, so that it never looks selected. */
type OutlineLook = 'selected' | 'pointed' | 'marked';

function styleOf(look: OutlineLook, colours: CanvasColours) {
  switch (look) {
    case 'selected':
      return { stroke: colours.focus, strokeWidth: 2.5 };
    case 'pointed':
      return { stroke: colours.ink, strokeWidth: 1.25, dash: [3, 3] };
    case 'marked':
      return { stroke: colours.focus, strokeWidth: 7, opacity: 0.45 };
  }
}

function Outline(props: {
  scene: Scene;
  of: string;
  view: Viewport;
  colours: CanvasColours;
  look: OutlineLook;
}) {
  const { scene, of, view, colours, look } = props;
  const style = { ...styleOf(look, colours), listening: false, perfectDrawEnabled: false };
  const thing = scene.byRef.get(of);
  if (thing?.kind === 'lamp') {
    const points = thing.corners.flatMap((corner) => {
      const p = toPixel(view, corner);
      return [p.x, p.y];
    });
    return <Line points={points} closed {...style} />;
  }
  const box = thing?.kind === 'shelf' && scene.view === 'front' ? thing.bay : outlineOf(scene, of);
  if (!box) return null;
  const r = pixelRect(view, box);
  if (!thing && fromAbove(scene.view)) {
    return <Circle x={r.x + r.w / 2} y={r.y + r.h / 2} radius={r.w / 2 + 1.5} {...style} />;
  }
  return <Rect x={r.x} y={r.y} width={r.w} height={r.h} {...style} />;
}

/** What was changed just now: pulses, where things on the screen may move. */
function Marks(props: {
  scene: Scene;
  of: readonly string[];
  view: Viewport;
  colours: CanvasColours;
}) {
  const { of, ...drawn } = props;
  const group = useRef<GroupNode>(null);
  useEffect(() => {
    if (isStill()) return undefined;
    let frame = 0;
    const began = performance.now();
    const step = (now: number) => {
      group.current?.opacity(
        0.3 + 0.7 * Math.abs(Math.cos(((now - began) / MARKED_MS) * 3 * Math.PI)),
      );
      frame = requestAnimationFrame(step);
    };
    frame = requestAnimationFrame(step);
    return () => cancelAnimationFrame(frame);
  }, [of]);
  return (
    <Group listening={false} ref={group}>
      {of.map((ref) => (
        <Outline key={ref} of={ref} look="marked" {...drawn} />
      ))}
    </Group>
  );
}

function Handles(props: { scene: Scene; of: string; view: Viewport; colours: CanvasColours }) {
  const { scene, view, colours } = props;
  const thing = scene.byRef.get(props.of);
  if (!thing) return null;
  const box = handleBox(thing, scene.view);
  return (
    <Group listening={false}>
      {shownHandles(handlesOf(thing.kind, scene.view), box, view).map((h) => {
        const p = handlePixel(view, box, h);
        return (
          <Rect
            key={h.name}
            x={p.x - 4.5}
            y={p.y - 4.5}
            width={9}
            height={9}
            cornerRadius={2}
            fill={colours.raised}
            stroke={colours.focus}
            strokeWidth={1.5}
          />
        );
      })}
    </Group>
  );
}

function Frame(props: { frame: Box; view: Viewport; colours: CanvasColours }) {
  const r = pixelRect(props.view, props.frame);
  return (
    <Group listening={false}>
      <Rect x={r.x} y={r.y} width={r.w} height={r.h} fill={props.colours.focus} opacity={0.12} />
      <Rect
        x={r.x}
        y={r.y}
        width={r.w}
        height={r.h}
        stroke={props.colours.focus}
        strokeWidth={1}
        dash={[4, 3]}
      />
    </Group>
  );
}
