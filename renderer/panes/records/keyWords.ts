/** What the keys do while values are entered. */
export const recordKeys = [
  ['Enter', 'keep the value, go on; with Shift go back'],
  ['Enter twice', 'leave a pot without a value; it stays lit until it has one'],
  ['Ctrl Enter, or * of the number pad', 'the next pot that is not recorded'],
  ['Ctrl F, or / of the number pad', 'find a pot by its code or its plant, from any stage'],
  ['Arrows, Page up and down, Tab', 'move without changing anything'],
  ['Escape', 'put back what was there'],
  ['Ctrl Z, Ctrl Y', 'undo and redo, one value at a time'],
  ['d, m, x, then Enter', 'the plant is dead, missing, excluded'],
  ['F2', 'state, note and photos of this pot'],
  ['F8, F9', 'the next value in question; it is right'],
  ['a scanned label', 'goes to its pot, also from within a value; never taken as one'],
] as const;
