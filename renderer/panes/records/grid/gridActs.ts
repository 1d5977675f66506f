import type { ClipboardEvent, KeyboardEvent, RefObject } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import type { OtherRunLabel } from '../../../document/records';
import type { EnterWay } from './cellKeys';
import type { KeyTrail } from './keyTrail';
import type { CellPlace } from './rowView';
import type { ValueEntry } from './useEntry';

/** A cell of the grid with what it holds. */
export interface CellAt {
  row: number;
  column: number;
  pot: Pot;
  measurement: Measurement;
}

/** What is done in the cells. The same object for as long as the grid is shown. */
export interface CellActs {
  focus: (at: CellAt) => void;
  type: (at: CellAt, text: string) => void;
  leave: (at: CellAt) => void;
  paste: (at: CellAt, event: ClipboardEvent<HTMLInputElement>) => void;
  press: (at: CellAt, event: KeyboardEvent<HTMLInputElement>) => void;
  about: (pot: Pot) => void;
}

/** What the grid asks of those around it. */
export interface GridActs {
  /** The wanted cell has the focus; stays the same function. */
  reached: () => void;
  want: (cell: CellPlace) => void;
  focusCell: (cell: CellPlace) => void;
  /** A value has been taken. */
  done: (cell: CellPlace) => void;
  /** The walk goes on from a pot that is done to the next one, if there is one. */
  wentOn: (from: Pot, next: Pot | null) => void;
  /** A label was scanned. */
  scan: (found: Pot | OtherRunLabel) => void;
  aboutPot: (pot: Pot) => void;
  find: () => void;
  nextQuestion: () => void;
  answer: () => void;
  /** An empty cell is left open knowingly. */
  pass: (cell: CellPlace) => void;
  /** `holds`: it is about what stands in the cell and keeps the cursor there. */
  say: (text: string | null, holds?: boolean) => void;
}

/** What the cells of the grid work on. */
export interface GridCells {
  plan: Plan;
  pots: readonly Pot[];
  measurements: readonly Measurement[];
  way: EnterWay;
  entry: ValueEntry;
  /** What can be told from the rhythm of the keys. */
  trail: RefObject<KeyTrail>;
  acts: GridActs;
}
