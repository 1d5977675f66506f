import * as commands from '../../../../renderer/document/commands';
import { newGrid } from '../../../../renderer/document/new';
import { alignments } from '../../../../shared-types/window/arranging';
import { spreadDirections } from '../../../../shared-types/window/arranging';
import { board, shelf, tray, pot, item, place, act } from './dice';
import type { Move } from './dice';

export const rackMoves: Move[] = [
  act(commands.addShelf)((_p, d) => (d.yes() ? {} : { shelf: { widthMm: d.number() } })),
  act(commands.editShelf)((p, d) => ({
    shelfId: shelf(p, d),
    patch: d.yes() ? { clearanceMm: d.number() } : { number: d.number() },
  })),
  act(commands.setFacing)((p, d) => ({
    shelfId: shelf(p, d),
    side: d.yes() ? 'left' : 'back',
    facing: d.yes()
      ? { kind: 'shelf', shelfId: shelf(p, d), gapMm: d.number() }
      : { kind: 'wall', reflectance: 0.8, distanceMm: d.number() },
  })),
  act(commands.addBoard)((p, d) => ({
    shelfIds: [shelf(p, d)],
    board: {
      direction: d.one(['across', 'lengthwise'] as const, 'across'),
      atMm: d.one([400, 600], d.number()),
      thicknessMm: 10,
      reflectance: 0.9,
      downToMm: 60,
    },
  })),
  act(commands.editBoard)((p, d) => ({ boardId: board(p, d), patch: { reflectance: 0.5 } })),
  act(commands.copyBoards)((p, d) => ({
    fromShelfId: shelf(p, d),
    toShelfIds: [shelf(p, d)],
  })),
  act(commands.copySides)((p, d) => ({
    fromShelfId: shelf(p, d),
    toShelfIds: [shelf(p, d)],
  })),
  act(commands.setBayHours)((p, d) => ({
    shelfId: shelf(p, d),
    bayId: d.one(
      p.rack.shelves.flatMap(({ bays = [] }) => bays.map(({ id }) => id)),
      'b1',
    ),
    hours: d.yes() ? null : d.number(),
  })),
  act(commands.removeShelves)((p, d) => ({ shelfIds: [shelf(p, d)] })),
  act(commands.placeRack)((p, d) => ({ shelfIds: [shelf(p, d)], place: place(d) })),
  act(commands.duplicateRack)((p, d) => ({ shelfIds: [shelf(p, d)], place: place(d) })),
  act(commands.setRoom)((_p, d) => ({
    room: d.yes() ? null : { widthMm: 4000, depthMm: d.yes() ? 4000 : d.number(), heightMm: 2500 },
  })),
  act(commands.duplicateShelf)((p, d) => ({ shelfId: shelf(p, d) })),
  act(commands.reorderShelf)((p, d) => ({ shelfId: shelf(p, d), to: d.number() })),
  act(commands.renumberShelves)(() => ({})),
  act(commands.addTray)((p, d) => ({ shelfId: shelf(p, d) })),
  act(commands.editTray)((p, d) => ({
    trayId: tray(p, d),
    patch: d.yes() ? { letter: d.one(['A', 'C', 'b'], 'Z') } : { widthMm: d.number() },
  })),
  act(commands.setTrayCanopy)((p, d) => ({
    trayIds: [tray(p, d)],
    canopy: d.yes() ? null : { harvestMm: d.number() },
  })),
  act(commands.setDrainPlace)((p, d) => ({
    trayIds: [tray(p, d)],
    place: d.yes() ? null : d.one(['back', 'middle'], 'left'),
  })),
  act(commands.moveItems)((p, d) => ({
    items: [item(p, d), item(p, d)],
    dxMm: d.number(),
    dyMm: d.number(),
    dzMm: d.number(),
  })),
  act(commands.resizeTray)((p, d) => ({
    trayId: tray(p, d),
    xMm: 0,
    yMm: 10.04,
    widthMm: d.number(),
    depthMm: 300,
    refitGrid: d.yes(),
  })),
  act(commands.duplicateItems)((p, d) => ({
    items: [item(p, d), item(p, d)],
    dxMm: d.number(),
    dyMm: 5,
  })),
  act(commands.duplicateBeside)((p, d) => ({ items: [item(p, d), item(p, d)] })),
  act(commands.copyToShelves)((p, d) => ({ items: [item(p, d)], toShelfIds: [shelf(p, d)] })),
  act(commands.alignItems)((p, d) => ({
    items: [item(p, d), item(p, d)],
    to: d.one(alignments, 'left'),
  })),
  act(commands.spreadItems)((p, d) => ({
    items: [item(p, d), item(p, d), item(p, d)],
    along: d.one(spreadDirections, 'across'),
  })),
  act(commands.removeItems)((p, d) => ({ items: [item(p, d)] })),
  act(commands.fitPots)((p, d) => ({ trayIds: [tray(p, d)] })),
  act(commands.setGrid)((p, d) => ({
    trayId: tray(p, d),
    grid: d.yes()
      ? { ...newGrid({ widthMm: 500, depthMm: 400 }), rows: d.number(), guards: ['1:1', '3:2'] }
      : null,
  })),
  act(commands.setGuardRing)((p, d) => ({ trayIds: [tray(p, d)], on: d.yes() })),
  act(commands.toggleGuards)((p, d) => ({ potIds: [pot(p, d), pot(p, d)] })),
  act(commands.toggleEmptyHoles)((p, d) => ({ potIds: [pot(p, d)] })),
];
