import { holeCentre, potId } from '../../engine/geometry';
import type { Box } from '../plane/box';
import type { Direction } from '../plane/focusOrder';
import type { Scene } from '../plane/scene';
import { parseRef, refTo } from '../../document/queries/refs';

/** The hole that the keyboard stands on while it picks guard pots or empty holes. */
export interface KeyedPick {
  tool: 'guard' | 'hole';
  trayId: string;
  row: number;
  column: number;
}

function gridOf(scene: Scene, trayId: string) {
  const thing = scene.byRef.get(refTo('tray', trayId));
  return thing?.kind === 'tray' && thing.tray.grid ? { thing, grid: thing.tray.grid } : null;
}

/** Begins in the selected tray, else in the first that holds pots; null where none does. */
export function startKeyedPick(
  scene: Scene,
  tool: KeyedPick['tool'],
  selection: readonly string[],
): KeyedPick | null {
  const chosen = parseRef(selection[0] ?? '');
  const trays = [
    ...(chosen?.kind === 'tray' ? [chosen.id] : []),
    ...scene.things.flatMap((thing) => (thing.kind === 'tray' ? [thing.tray.id] : [])),
  ];
  const trayId = trays.find((id) => gridOf(scene, id) !== null);
  return trayId === undefined ? null : { tool, trayId, row: 1, column: 1 };
}

export function stepKeyedPick(scene: Scene, pick: KeyedPick, direction: Direction): KeyedPick {
  const found = gridOf(scene, pick.trayId);
  if (!found) return pick;
  const { rows, columns } = found.grid;
  const held = (n: number, most: number) => Math.min(most, Math.max(1, n));
  switch (direction) {
    case 'left':
    case 'right':
      return { ...pick, column: held(pick.column + (direction === 'right' ? 1 : -1), columns) };
    case 'up':
    case 'down':
      return { ...pick, row: held(pick.row + (direction === 'up' ? 1 : -1), rows) };
  }
}

/** The first hole of the next tray with pots, or of the one before. */
export function nextTray(scene: Scene, pick: KeyedPick, by: 1 | -1): KeyedPick {
  const ids = scene.things.flatMap((thing) =>
    thing.kind === 'tray' && thing.tray.grid ? [thing.tray.id] : [],
  );
  const trayId = ids[ids.indexOf(pick.trayId) + by];
  return trayId === undefined ? pick : { ...pick, trayId, row: 1, column: 1 };
}

export const pickedHole = ({ trayId, row, column }: KeyedPick) => potId(trayId, row, column);

/** Around the hole, on the drawing plane. */
export function holeBox(scene: Scene, pick: KeyedPick): Box | null {
  const found = gridOf(scene, pick.trayId);
  if (!found) return null;
  const { thing, grid } = found;
  const { xMm, yMm } = holeCentre(grid, pick.row, pick.column);
  const [across, up] = [thing.box.left + xMm, thing.box.bottom + yMm];
  const half = grid.potDiameterMm / 2;
  return { left: across - half, right: across + half, bottom: up - half, top: up + half };
}
