import { pressToArrange, pressToCopy } from './arrangeKeys';
import { idsOf } from '../../document/queries/refs';
import {
  duplicateNext,
  moveThings,
  removeThings,
  toggleGuardPots,
  toggleEmpty,
  turnLamps,
} from '../boundCommands';
import { movableRefs } from '../gestures/moveArithmetic';
import type { KeyAsk } from './keyAsk';
import { ARROWS, type KeyPress } from './keyPress';
import {
  type Direction,
  firstPotOf,
  focusOrder,
  nextInOrder,
  towards,
  trayOfPot,
} from '../plane/focusOrder';
import type { ViewName } from '../plane/things';
import type { Tool } from '../canvasPort';

/** Letters that take up a tool on the rack stage. */
export const TOOL_KEYS: Readonly<Record<string, Tool>> = {
  v: 'select',
  s: 'shelf',
  t: 'tray',
  p: 'pots',
  l: 'lamp',
  b: 'board',
  g: 'guard',
  h: 'hole',
};

/** Figures that change the view, in the order of the view switch. */
export const VIEW_KEYS = { '1': 'front', '2': 'above', '3': 'all' } as const satisfies Readonly<
  Record<string, ViewName>
>;

/** One key on the focused canvas. True where it was used up. */
export function pressKey(ask: KeyAsk, event: KeyPress): boolean {
  const { view } = ask;
  if (ask.keyed.press(event)) return true;
  const command = event.ctrlKey || event.metaKey;
  const arrow = ARROWS[event.key];
  // Alt with other keys belongs to the window: it goes to a stage.
  if (event.altKey) return arrow && !command ? pressToArrange(ask, arrow, event.shiftKey) : false;
  if (arrow && !command) return pressArrow(ask, arrow, event.shiftKey);
  if (command && event.shiftKey && event.key.toLowerCase() === 'd') return pressToCopy(ask);
  if (command) return pressWithCommand(ask, event.key.toLowerCase());
  switch (event.key) {
    case ' ':
      ask.holdSpace(true);
      return true;
    case 'Escape':
      return stepBack(ask);
    case 'Tab':
      return tabOn(ask, event.shiftKey ? -1 : 1);
    case 'Enter':
      ask.inspect();
      return true;
    case 'Delete':
    case 'Backspace':
      return remove(ask);
    case '1':
    case '2':
    case '3':
      ask.room.setView(VIEW_KEYS[event.key]);
      return true;
    case '0':
      view?.fit();
      return true;
    case '+':
    case '=':
      view?.zoomIn();
      return true;
    case '-':
      view?.zoomOut();
      return true;
  }
  return pressLetter(ask, event.key.toLowerCase());
}

function pressLetter(ask: KeyAsk, key: string): boolean {
  const { room, view, look, scene } = ask;
  if (key === 'f') {
    view?.fit();
    return true;
  }
  if (key === 'z') {
    view?.zoomTo(room.selection);
    return true;
  }
  if (key === 'u') return ask.goUnder();
  if (key === 'i' && room.selection.length > 0) {
    room.logIncident();
    return true;
  }
  if (look.editable === false) return false;
  const lamps = idsOf(room.selection, 'lamp');
  if (key === 'r' && lamps.length > 0) {
    room.act(turnLamps(room.plan, lamps, 90));
    return true;
  }
  if (look.editable !== true) return false;
  const pots = idsOf(room.selection, 'pot');
  // With pots selected the letters act on them; without, they take up the tool.
  if (pots.length > 0 && (key === 'g' || key === 'h')) {
    room.act(key === 'g' ? toggleGuardPots(pots) : toggleEmpty(pots));
    return true;
  }
  const tool = TOOL_KEYS[key];
  if (!tool) return false;
  // Holes are picked from above.
  if ((tool === 'guard' || tool === 'hole') && scene.view === 'front') room.setView('above');
  if (tool === 'select') room.takeTool(tool);
  else ask.keyed.take(tool);
  return true;
}

function pressWithCommand(ask: KeyAsk, key: string): boolean {
  const { room, scene, look } = ask;
  switch (key) {
    case 'a':
      room.select(selectAll(ask));
      return true;
    case 'd': {
      if (look.editable === false) return true;
      const refs = room.selection.filter(
        (ref) => scene.byRef.has(ref) && (look.editable === true || ref.startsWith('lamp:')),
      );
      if (refs.length === 0) return true;
      const added = room.act(duplicateNext(refs));
      if (added) room.select(added);
      return true;
    }
    case 'enter': {
      const [only] = room.selection;
      const pot = only === undefined ? null : firstPotOf(scene, only);
      if (pot) room.select([pot]);
      return pot !== null;
    }
  }
  return false;
}

/** All of what is selected now; things by default, pots where nothing can be moved. */
function selectAll({ room, scene, look }: KeyAsk): string[] {
  const pots = look.editable === false || room.selection.some((ref) => ref.startsWith('pot:'));
  if (pots) return scene.pots.map((p) => p.ref);
  return scene.things
    .filter((t) => t.kind !== 'shelf' && (look.editable === true || t.kind === 'lamp'))
    .map((t) => t.ref);
}

function pressArrow(ask: KeyAsk, direction: Direction, large: boolean): boolean {
  const { room, scene, look } = ask;
  const [first] = room.selection;
  if (first === undefined) return tabOn(ask, 1);
  const movable =
    look.editable === false ? [] : movableRefs(scene, room.selection, look.editable === 'lamps');
  if (movable.length > 0) {
    const step = large ? 10 : 1;
    const across = direction === 'left' ? -step : direction === 'right' ? step : 0;
    const up = direction === 'down' ? -step : direction === 'up' ? step : 0;
    room.act(moveThings(scene.view, movable, across, up), `nudge ${movable.join(' ')}`);
    return true;
  }
  const last = room.selection.at(-1) ?? first;
  const tray = scene.byRef.get(last)?.kind === 'tray' ? firstPotOf(scene, last) : null;
  const next = look.editable === false && tray ? tray : towards(scene, last, direction);
  if (next === null) return true;
  const adding = large && next.startsWith('pot:');
  room.select(adding ? [...room.selection.filter((ref) => ref !== next), next] : [next]);
  return true;
}

function tabOn({ room, scene, look }: KeyAsk, by: 1 | -1): boolean {
  const order = focusOrder(scene, look.editable === 'lamps');
  const last = room.selection.at(-1) ?? null;
  const at = last?.startsWith('pot:') ? trayOfPot(scene, last) : last;
  const next = nextInOrder(order, at, by);
  if (next === null) return false;
  room.select([next]);
  return true;
}

/** Escape goes one step back: the drag, the tool, the pots, the selection. */
function stepBack(ask: KeyAsk): boolean {
  const { room, scene } = ask;
  if (ask.cancelGesture()) return true;
  if (room.tool !== 'select') {
    room.takeTool('select');
    return true;
  }
  const [first] = room.selection;
  if (first === undefined) return false;
  const tray = trayOfPot(scene, first);
  room.select(tray ? [tray] : []);
  return true;
}

function remove({ room, scene, look }: KeyAsk): boolean {
  if (look.editable === false) return false;
  const refs =
    look.editable === true
      ? room.selection.filter((ref) => scene.byRef.has(ref) || scene.potByRef.has(ref))
      : room.selection.filter((ref) => ref.startsWith('lamp:'));
  const command = removeThings(room.plan, refs);
  if (!command) return true;
  if (room.act(command)) room.select([]);
  return true;
}
