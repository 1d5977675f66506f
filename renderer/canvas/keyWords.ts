/** What the keys do while the rack has the focus. */
export const canvasKeys = [
  ['Tab, Shift Tab', 'the next thing on the rack, the one before'],
  ['Arrows', 'move what is selected, with Shift further; go from pot to pot'],
  ['Enter', 'to the figures of what is selected'],
  ['Ctrl Enter', 'to the first pot of what is selected'],
  ['Escape', 'put a move back, lay the tool down, step out'],
  ['V', 'select'],
  ['S, T, P, L, B', 'draw a shelf, tray, pots, lamp, board'],
  ['G, H', 'guard pots and empty holes'],
  ['R', 'turn the selected lamps'],
  ['I', 'write an incident down about what is selected'],
  ['Ctrl D, Delete', 'duplicate, remove'],
  ['Ctrl A', 'select all of its kind'],
  ['1, 2, 3', 'from the front, one shelf, all shelves'],
  ['+, −, Z', 'larger, smaller, zoom to what is selected'],
  ['F or 0', 'show everything'],
  ['Space and drag', 'shift the view'],
] as const;
