import type { KeyboardEvent } from 'react';
import {
  cellAfter,
  cellBefore,
  cellByKey,
  nextCellWhere,
  type GridPlace,
  type GridSize,
} from './cellKeys';
import type { CellAt, GridCells } from './gridActs';
import { cameByMachine, endsLine, valueThenLabel, withKey, withLineEnd } from './keyTrail';

/** What keys can do in a cell. */
export interface KeysOfGrid extends GridCells {
  /** Takes what is typed in a cell. False: it stays, with the reason. */
  commit: (at: CellAt, text: string | null, byMachine: boolean) => boolean;
  /** Forgets what is typed. */
  drop: () => void;
  /** True where an empty cell keeps the cursor. */
  hold: (at: CellAt) => boolean;
  undoBy: (redo: boolean) => void;
}

type Press = KeyboardEvent<HTMLInputElement>;

/** A key in a cell; `typed`: what is typed there and not yet taken. */
export function pressed(grid: KeysOfGrid, at: CellAt, typed: string | null, event: Press): void {
  const { trail, acts } = grid;
  const { key, timeStamp, ctrlKey, metaKey, altKey, shiftKey } = event;
  const byMachine = typed !== null && cameByMachine(trail.current, typed, timeStamp);
  const taken = () => grid.commit(at, typed, byMachine);
  const then = (next: GridPlace | null) => {
    event.preventDefault();
    if (taken()) go(grid, next);
  };
  // Some scanners end a label with Tab.
  const endsLabel = key === 'Tab' && !shiftKey && byMachine && isLabel(grid, typed);
  if (endsLine(event) || endsLabel) {
    event.preventDefault();
    if (lineEnded(grid, at, typed, event)) return;
    const next = (shiftKey ? cellBefore : cellAfter)(at, sizeOf(grid), grid.way);
    if (!taken()) return;
    const done = next.row !== at.row || next.column === at.column;
    if (done && !shiftKey)
      acts.wentOn(at.pot, next.row > at.row ? (grid.pots[next.row] ?? null) : null);
    go(grid, next);
    return;
  }
  if (key.length === 1 && !ctrlKey && !metaKey && !altKey) {
    trail.current = withKey(trail.current, key, timeStamp);
  }
  if ((ctrlKey || metaKey) && !altKey && /^[zy]$/i.test(key) && typed === null) {
    event.preventDefault();
    grid.undoBy(key.toLowerCase() === 'y' || shiftKey);
  } else if ((ctrlKey && key === 'Enter') || (event.code === 'NumpadMultiply' && !ctrlKey)) {
    const open = nextOpen(grid, at);
    if (!open) acts.say('Every pot shown is recorded or marked.');
    then(open);
  } else if (event.code === 'NumpadDivide' || (ctrlKey && key.toLowerCase() === 'f')) {
    event.preventDefault();
    if (taken()) acts.find();
  } else if (key === 'F2') {
    event.preventDefault();
    acts.aboutPot(at.pot);
  } else if (key === 'F8') {
    event.preventDefault();
    if (taken()) acts.nextQuestion();
  } else if (key === 'F9') {
    event.preventDefault();
    acts.answer();
  } else if (key === 'Escape') {
    if (typed !== null) event.stopPropagation();
    grid.drop();
  } else if (key === 'Tab') {
    const column = at.column + (shiftKey ? -1 : 1);
    if (column >= 0 && column < grid.measurements.length) then({ row: at.row, column });
  } else if (typed === null || !key.startsWith('Arrow') || /Up|Down/.test(key)) {
    const next = ctrlKey || altKey || metaKey ? null : cellByKey(key, at, sizeOf(grid));
    if (next) then(next);
  }
}

/** The end of a line, by hand or by a machine. True: that was all; false: on to the next cell. */
function lineEnded(grid: KeysOfGrid, at: CellAt, typed: string | null, event: Press): boolean {
  const { entry, trail, acts, plan } = grid;
  const end = withLineEnd(trail.current, event.timeStamp);
  trail.current = end.trail;
  // A key held down, or the second line end of a balance, would skip pots.
  if (event.repeat || (end.again && typed === null)) return true;
  if (typed !== null) {
    const both = valueThenLabel(typed, end.burst, (text) => isLabel(grid, text));
    const scanned = both && entry.find(both.label);
    if (!both || !scanned || typeof scanned === 'string') return false;
    // A label scanned after a value was typed: the value counts, the label leads on.
    if (grid.commit(at, both.value, false)) acts.scan(scanned);
    return true;
  }
  const { values, marks } = plan.records;
  const empty = values[at.measurement.id]?.[at.pot.id] === undefined && !marks[at.pot.id];
  // A pot without a value is not left by the way: a key struck twice would shift all that follow.
  return empty && !event.shiftKey && grid.hold(at);
}

const isLabel = ({ entry }: KeysOfGrid, text: string) => typeof entry.find(text) !== 'string';

const sizeOf = ({ pots, measurements }: KeysOfGrid): GridSize => ({
  rows: pots.length,
  columns: measurements.length,
});

function go({ pots, measurements, acts }: KeysOfGrid, place: GridPlace | null): void {
  const [pot, measurement] = place ? [pots[place.row], measurements[place.column]] : [];
  if (pot && measurement) acts.want({ potId: pot.id, measurementId: measurement.id });
}

function nextOpen(grid: KeysOfGrid, from: GridPlace): GridPlace | null {
  const { values, marks } = grid.plan.records;
  return nextCellWhere(from, sizeOf(grid), ({ row, column }) => {
    const [pot, measurement] = [grid.pots[row], grid.measurements[column]];
    if (!pot || !measurement || (row === from.row && column === from.column)) return false;
    return !marks[pot.id] && values[measurement.id]?.[pot.id] === undefined;
  });
}
