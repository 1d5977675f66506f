import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import { cellKey } from '../../../derive/records/valueQuestions';
import type { CellActs, CellAt, GridCells } from './gridActs';
import { pressed, type KeysOfGrid } from './gridKeys';
import { cameByMachine, withArrival } from './keyTrail';
import { shownValue, type CellPlace, type Draft } from './rowView';
import { useUndoKeys } from '../useUndoKeys';

const cellOf = ({ pot, measurement }: CellAt): CellPlace => ({
  potId: pot.id,
  measurementId: measurement.id,
});
const keyOf = ({ pot, measurement }: CellAt): string => cellKey(measurement.id, pot.id);

/** What is typed in the grid until it is taken, and what keys, focus and paste do in its cells. */
export function useGridCells(grid: GridCells): { draft: Draft | null; acts: CellActs } {
  const { plan, pots, entry, trail, acts } = grid;
  const [draft, setDraft] = useState<Draft | null>(null);
  // The empty cell at which Enter was struck once.
  const held = useRef<string | null>(null);
  const undoBy = useUndoKeys(acts.say);

  const typedIn = (at: CellAt) => (draft?.key === keyOf(at) ? draft.text : null);
  const release = () => {
    if (held.current !== null || (draft && draft.problem !== null)) acts.say(null);
    held.current = null;
  };
  const drop = () => {
    release();
    setDraft(null);
  };

  /** Takes what is typed in a cell. False: it stays, with the reason. */
  const commit = (at: CellAt, text: string | null, byMachine: boolean, leaving = false) => {
    const { pot, measurement } = at;
    if (text === null) return true;
    if (text === shownValue(plan.records.values[measurement.id]?.[pot.id], measurement)) {
      drop();
      return true;
    }
    const taken = entry.take(text, pot, measurement, byMachine);
    if (taken.kind === 'refused') {
      setDraft({ key: keyOf(at), text, problem: taken.why });
      acts.say(`${pot.code}: ${taken.why}`, true);
      return false;
    }
    drop();
    if (taken.kind === 'pot') {
      if (!leaving) acts.scan(taken.pot);
      if (taken.said !== null) acts.say(taken.said);
      return false;
    }
    acts.say(taken.said);
    acts.done(cellOf(at));
    return true;
  };

  /** True where an empty cell keeps the cursor: Enter was struck there for the first time. */
  const hold = (at: CellAt): boolean => {
    if (held.current !== keyOf(at)) {
      held.current = keyOf(at);
      acts.say(`${at.pot.code} has no value yet. ${EMPTY}`, true);
      return true;
    }
    acts.pass(cellOf(at));
    release();
    return false;
  };

  const keys: KeysOfGrid = { ...grid, commit, drop, hold, undoBy };
  const latest: CellActs = {
    focus: (at) => {
      trail.current = withArrival(trail.current, performance.now());
      if (held.current !== null && held.current !== keyOf(at)) release();
      acts.focusCell(cellOf(at));
    },
    type: (at, text) => {
      release();
      setDraft({ key: keyOf(at), text, problem: null });
    },
    leave: (at) => {
      const typed = typedIn(at);
      commit(at, typed, typed !== null && cameByMachine(trail.current, typed), true);
    },
    paste: (at, event) => {
      const text = event.clipboardData.getData('text');
      if (!/[\r\n\t]/.test(text.trim())) return;
      event.preventDefault();
      acts.say(entry.pasteFrom(text, at.pot, at.measurement, pots));
    },
    press: (at, event) => pressed(keys, at, typedIn(at), event),
    about: acts.aboutPot,
  };
  return { draft, acts: useSteady(latest) };
}

const EMPTY = 'Enter again leaves it open; d marks it dead, m missing.';

/** The acts as one object that stays, so that lines need not be drawn anew for other closures. */
function useSteady(latest: CellActs): CellActs {
  const now = useRef(latest);
  useLayoutEffect(() => {
    now.current = latest;
  });
  return useMemo(
    () => ({
      focus: (at) => now.current.focus(at),
      type: (at, text) => now.current.type(at, text),
      leave: (at) => now.current.leave(at),
      paste: (at, event) => now.current.paste(at, event),
      press: (at, event) => now.current.press(at, event),
      about: (pot) => now.current.about(pot),
    }),
    [],
  );
}
