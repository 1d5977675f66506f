import { useState } from 'react';
import { toggleEmpty, toggleGuardPots } from '../boundCommands';
import { settle, type AddTool, type DrawContext } from '../gestures/add';
import {
  frameOf,
  keyedCommand,
  keyedGround,
  nextGround,
  startKeyed,
  stepKeyed,
  turnKeyed,
  type KeyedDraw,
} from '../gestures/keyedDraw';
import {
  holeBox,
  pickedHole,
  nextTray,
  startKeyedPick,
  stepKeyedPick,
  type KeyedPick,
} from '../gestures/keyedPick';
import { ARROWS, type KeyPress } from './keyPress';
import type { GestureShow } from '../layers/show';
import { heightOf, widthOf } from '../plane/box';
import { sizeMeasures } from '../plane/guides';
import type { Scene } from '../plane/scene';
import { nameIn } from '../plane/scene';
import { shortLength } from '../plane/shortLength';
import { fromAbove } from '../plane/things';
import type { CanvasPort, Tool } from '../canvasPort';

type Keyed = { draws: KeyedDraw } | { picks: KeyedPick };

/** What a tool in the hand of the keyboard shows, says and does. */
export interface KeyedTool {
  show: GestureShow | null;
  words: string | null;
  /** Takes up a tool by its key. */
  take(tool: Tool): void;
  /** True where the key was used up. */
  press(event: KeyPress): boolean;
  drop(): void;
}

const isDrawing = (tool: Tool): tool is AddTool =>
  ['shelf', 'tray', 'pots', 'lamp', 'board'].includes(tool);

/** Tools taken by key draw by key: arrows place and size a frame, Enter sets the thing down. */
export function useKeyedTool(room: CanvasPort, scene: Scene, editable: boolean): KeyedTool {
  const [kept, keep] = useState<Keyed | null>(null);
  const context = { scene, plan: room.plan, lengths: room.plan.display.lengths };
  const keyed = kept && isLive(kept, room, scene) ? kept : null;

  const begin = (tool: Tool) => {
    const start = startOf(context, tool, room);
    if (typeof start === 'string') {
      room.takeTool('select');
      room.setHover(start);
      return;
    }
    room.takeTool(tool);
    keep(start);
  };
  return {
    show: keyed && showOf(context, keyed),
    words: keyed && wordsOf(context, keyed),
    take: begin,
    drop: () => keep(null),
    press(event) {
      const { tool } = room;
      if (!editable || tool === 'select' || event.altKey) return false;
      const arrow = ARROWS[event.key];
      const sets = event.key === 'Enter' || event.key === ' ';
      if (!keyed) {
        if (!arrow && event.key !== 'Enter') return false;
        begin(tool);
        return true;
      }
      const next = nextOf(context, keyed, event);
      if (next) keep(next);
      else if (sets && 'draws' in keyed) setDown(context, keyed.draws, room);
      else if (sets && 'picks' in keyed) pick(keyed.picks, room);
      return next !== null || sets;
    },
  };
}

/** A tool put away, another view or a thing that is gone ends what was begun. */
function isLive(keyed: Keyed, { tool }: CanvasPort, scene: Scene): boolean {
  if ('picks' in keyed) return keyed.picks.tool === tool && holeBox(scene, keyed.picks) !== null;
  const { on, view } = keyed.draws;
  return keyed.draws.tool === tool && view === scene.view && (on === null || scene.byRef.has(on));
}

function startOf(
  context: DrawContext,
  tool: Tool,
  { selection }: CanvasPort,
): Keyed | string | null {
  if (isDrawing(tool)) {
    const draws = startKeyed(context, tool, selection);
    return typeof draws === 'string' ? draws : { draws };
  }
  if (tool !== 'guard' && tool !== 'hole') return null;
  const picks = startKeyedPick(context.scene, tool, selection);
  return picks ? { picks } : 'No tray here holds pots.';
}

function nextOf(context: DrawContext, keyed: Keyed, event: KeyPress): Keyed | null {
  const { scene, lengths } = context;
  const arrow = ARROWS[event.key];
  const page = event.key === 'PageDown' ? 1 : event.key === 'PageUp' ? -1 : null;
  if ('picks' in keyed) {
    if (arrow) return { picks: stepKeyedPick(scene, keyed.picks, arrow) };
    return page && { picks: nextTray(scene, keyed.picks, page) };
  }
  const [step, fine] = lengths === 'metric' ? [10, 1] : [12.7, 25.4 / 16];
  const mm = event.ctrlKey || event.metaKey ? fine : step;
  if (arrow) return { draws: stepKeyed(context, keyed.draws, arrow, mm, event.shiftKey) };
  if (page) return { draws: nextGround(context, keyed.draws, page) };
  if (event.key.toLowerCase() === 'r') return { draws: turnKeyed(context, keyed.draws) };
  return null;
}

function setDown(context: DrawContext, draw: KeyedDraw, room: CanvasPort): void {
  const ground = keyedGround(context, draw);
  const added = ground && room.act(keyedCommand(ground, draw));
  if (!ground || !added) return;
  const done = { ...room, scene: context.scene, toolDone: () => room.takeTool('select') };
  settle(done, ground, draw.tool, added);
}

function pick(picked: KeyedPick, room: CanvasPort): void {
  const holes = [pickedHole(picked)];
  room.act(picked.tool === 'guard' ? toggleGuardPots(holes) : toggleEmpty(holes));
}

function showOf(context: DrawContext, keyed: Keyed): GestureShow {
  if ('picks' in keyed) return { frame: holeBox(context.scene, keyed.picks), guides: [] };
  const frame = frameOf(context, keyed.draws);
  return { frame, guides: sizeMeasures(frame, ['across', 'up']) };
}

function wordsOf(context: DrawContext, keyed: Keyed): string {
  const f = (mm: number) => shortLength(Math.round(mm * 10) / 10, context.lengths);
  if ('picks' in keyed) {
    const { tool } = keyed.picks;
    const name = nameIn(context.scene)(`pot:${pickedHole(keyed.picks)}`);
    const at = name.startsWith('pot ') ? name : 'empty hole';
    return `${at}: Enter ${tool === 'guard' ? 'makes it a guard pot or a test pot' : 'leaves it empty or fills it'}, arrows go on, Page Down to the next tray, Escape ends`;
  }
  const { tool, box, on, view } = keyed.draws;
  const where = on === null ? '' : ` on ${nameIn(context.scene)(on)}`;
  const turns = fromAbove(view) && (tool === 'lamp' || tool === 'board');
  const place = `at x ${f(box.left)}, ${fromAbove(view) ? `y ${f(box.bottom)}` : `${f(box.bottom)} above the floor`}`;
  const sizes = turns ? 'R turns it' : 'Shift+arrows size it';
  return `New ${tool}${where}: ${f(widthOf(box))} × ${f(heightOf(box))} ${place} · arrows place it, ${sizes}, Ctrl in fine steps, Enter sets it down`;
}
