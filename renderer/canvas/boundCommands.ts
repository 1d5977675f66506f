import type { Plan } from '../../shared-types/plan';
import { bind, together, type BoundCommand } from '../document/compose';
import {
  copyToShelves,
  duplicateBeside,
  duplicateItems,
  duplicateShelf,
  editLamps,
  editShelf,
  editTray,
  moveItems,
  removeItems,
  removeShelves,
  resizeTray,
  toggleEmptyHoles,
  toggleGuards,
} from '../document/commands';
import { tenth } from '../document/edit';
import { idsOf } from '../document/queries/refs';
import { shelvesWithRoom } from '../document/queries/placing';
import { sayThings } from '../document/queries/names';
import { findLamp, findShelf } from '../engine/geometry';
import { type Box, heightOf, widthOf } from './plane/box';
import { type Thing, type ViewName, fromAbove } from './plane/things';

/** Moves things on the drawing plane: over the shelf from above, across and up from the front. */
export function moveThings(
  view: ViewName,
  refs: readonly string[],
  byAcross: number,
  byUp: number,
): BoundCommand {
  const shelfIds = idsOf(refs, 'shelf');
  if (shelfIds.length > 0) return liftShelves(shelfIds, byUp);
  const by = fromAbove(view)
    ? { dxMm: byAcross, dyMm: byUp }
    : { dxMm: byAcross, dyMm: 0, dzMm: byUp };
  return bind(moveItems, { items: refs, ...by });
}

function liftShelves(shelfIds: readonly string[], byMm: number): BoundCommand {
  const refs = shelfIds.map((id) => `shelf:${id}`);
  return {
    name: editShelf.name,
    label: (_, plan) => `Move ${sayThings(plan, refs)}`,
    run: (plan) =>
      shelfIds.reduce((sum, shelfId) => {
        const shelf = findShelf(sum.rack, shelfId);
        if (!shelf) return sum;
        const heightMm = Math.max(0, tenth(shelf.heightMm + byMm));
        return editShelf.run(sum, { shelfId, patch: { heightMm } });
      }, plan),
  };
}

/** Sets down copies in the next free space; a shelf comes on top of its rack. */
export function duplicateNext(refs: readonly string[]): BoundCommand {
  const items = refs.filter((ref) => !ref.startsWith('shelf:'));
  return together(
    (plan) => `Duplicate ${sayThings(plan, refs)}`,
    [
      ...idsOf(refs, 'shelf').map((shelfId) => bind(duplicateShelf, { shelfId })),
      ...(items.length > 0 ? [bind(duplicateBeside, { items })] : []),
    ],
  );
}

/** Copies to every other shelf that has room where the things are on their own. */
export function copyToOthers(plan: Plan, refs: readonly string[]): BoundCommand {
  const items = refs.filter((ref) => !ref.startsWith('shelf:'));
  return bind(copyToShelves, { items, toShelfIds: shelvesWithRoom(plan, items) });
}

/** Sets down copies; from the front, lifted into another bay, they come to that shelf. */
export function duplicateThings(
  view: ViewName,
  refs: readonly string[],
  byAcross: number,
  byUp: number,
): BoundCommand {
  const shelves = idsOf(refs, 'shelf').map((shelfId) => bind(duplicateShelf, { shelfId }));
  const items = refs.filter((ref) => !ref.startsWith('shelf:'));
  const rest =
    items.length > 0
      ? [
          bind(duplicateItems, {
            items,
            dxMm: byAcross,
            ...(fromAbove(view) ? { dyMm: byUp } : { dyMm: 0, dzMm: byUp }),
          }),
        ]
      : [];
  return together((plan) => `Duplicate ${sayThings(plan, refs)}`, [...shelves, ...rest]);
}

/** Takes away whatever is selected: shelves with all on them, trays, lamps, boards; pots leave holes. */
export function removeThings(plan: Plan, refs: readonly string[]): BoundCommand | null {
  const shelfIds = idsOf(refs, 'shelf');
  const gone = new Set(shelfIds);
  const items = refs.filter((ref) => {
    const at = plan.rack.shelves.find(
      (s) =>
        s.trays.some((t) => ref === `tray:${t.id}`) ||
        s.lamps.some((l) => ref === `lamp:${l.id}`) ||
        s.boards?.some((b) => ref === `board:${b.id}`),
    );
    return at !== undefined && !gone.has(at.id);
  });
  const pots = idsOf(refs, 'pot');
  const commands = [
    ...(items.length > 0 ? [bind(removeItems, { items })] : []),
    ...(shelfIds.length > 0 ? [bind(removeShelves, { shelfIds })] : []),
    // A pot that goes with its tray needs no hole.
    ...(items.length + shelfIds.length === 0 && pots.length > 0
      ? [bind(toggleEmptyHoles, { potIds: pots })]
      : []),
  ];
  return commands.length > 0 ? together((p) => `Remove ${sayThings(p, refs)}`, commands) : null;
}

/** Gives a tray or shelf the outline that its handles were dragged to. */
export function resizeThing(view: ViewName, thing: Thing, box: Box): BoundCommand {
  if (thing.kind === 'tray') {
    const { tray } = thing;
    const { origin } = thing;
    const across = { xMm: box.left - origin.across, widthMm: widthOf(box) };
    const outline = fromAbove(view)
      ? { ...across, yMm: box.bottom - origin.up, depthMm: heightOf(box) }
      : { ...across, yMm: tray.yMm, depthMm: tray.depthMm };
    const trayId = tray.id;
    const resize = bind(resizeTray, { trayId, ...outline, refitGrid: false });
    if (fromAbove(view)) return resize;
    const rim = bind(editTray, { trayId, patch: { rimHeightMm: tenth(heightOf(box)) } });
    return together((plan) => resize.label(null, plan), [resize, rim]);
  }
  const shelfId = thing.shelf.id;
  const patch = fromAbove(view)
    ? { widthMm: tenth(widthOf(box)), depthMm: tenth(heightOf(box)) }
    : { widthMm: tenth(widthOf(box)), clearanceMm: tenth(heightOf(box)) };
  return bind(editShelf, { shelfId, patch });
}

export function toggleGuardPots(potIds: readonly string[]): BoundCommand {
  return bind(toggleGuards, { potIds });
}

export function toggleEmpty(potIds: readonly string[]): BoundCommand {
  return bind(toggleEmptyHoles, { potIds });
}

/** Turns lamps about the vertical. */
export function turnLamps(plan: Plan, lampIds: readonly string[], byDeg: number): BoundCommand {
  const edits = lampIds.flatMap((lampId) => {
    const lamp = findLamp(plan.rack, lampId)?.lamp;
    if (!lamp) return [];
    const turned = (((lamp.rotationDeg + byDeg) % 360) + 360) % 360;
    return [{ lampId, patch: { rotationDeg: turned } }];
  });
  return bind(editLamps, { edits });
}
