import { useMemo, useRef, useState, type KeyboardEvent, type RefObject } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import type { Pot } from '../../derive';
import { cellKey, type ValueQuestion } from '../../derive/recordNotices';
import { measurementLabel } from '../../document/queries';
import { useStores } from '../../store/context';
import { redoLabel, undoLabel } from '../../store';
import {
  cellAfter,
  cellBefore,
  cellByKey,
  nextCellWhere,
  type EnterWay,
  type GridPlace,
} from './cellKeys';
import {
  cameByMachine,
  endsLine,
  valueThenLabel,
  withArrival,
  withKey,
  withLineEnd,
  type KeyTrail,
} from './keyTrail';
import type { Entry } from './useEntry';
import { ROW_PX, useGridWindow } from './useGridWindow';
import { ValueCell } from './ValueCell';
import { fixed, rounded } from '../../words';

/** One cell, by what it holds; survives another order or filter. */
export interface Cell {
  potId: string;
  measurementId: string;
}

/**
 * The recording grid: a line a pot in the chosen order, a column a measurement. Type, Enter, next.
 * Only the lines in sight are in the page, so that ten thousand pots scroll like ten.
 */
export function RecordsGrid(props: {
  plan: Plan;
  pots: readonly Pot[];
  measurements: readonly Measurement[];
  way: EnterWay;
  entry: Entry;
  /** What can be told from the rhythm of the keys. */
  trail: RefObject<KeyTrail>;
  questions: ReadonlyMap<string, readonly ValueQuestion[]>;
  /** Keys of the cells that were passed over and are still empty. */
  passed: ReadonlySet<string>;
  current: Cell | null;
  /** The cell to bring into sight and focus. */
  wanted: Cell | null;
  onReached: () => void;
  onWant: (cell: Cell) => void;
  onFocusCell: (cell: Cell) => void;
  /** A value has been taken. */
  onDone: (cell: Cell) => void;
  onScan: (pot: Pot) => void;
  onAboutPot: (pot: Pot) => void;
  onFind: () => void;
  onNextQuestion: () => void;
  onAnswer: () => void;
  /** An empty cell is left open knowingly. */
  onPass: (cell: Cell) => void;
  /** `holds`: it is about what stands in the cell and keeps the cursor there. */
  say: (text: string | null, holds?: boolean) => void;
}) {
  const { plan, pots, measurements, entry, trail, say } = props;
  const { plan: store } = useStores();
  const { layout } = plan;
  const { marks, notes } = plan.records;
  const [draft, setDraft] = useState<{ key: string; text: string } | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  // The empty cell at which Enter was struck once.
  const held = useRef<string | null>(null);
  const size = { rows: pots.length, columns: measurements.length };
  const { frame, from, to, scrolled } = useGridWindow(
    pots,
    measurements,
    props.wanted,
    props.onReached,
  );
  const list = plan.records.values;
  const plantText = useMemo(() => plantWords(layout, { marks, notes }), [layout, marks, notes]);

  const isLabel = (text: string) => typeof entry.find(text) !== 'string';
  const cellAt = ({ row, column }: GridPlace): Cell | null => {
    const [pot, measurement] = [pots[row], measurements[column]];
    return pot && measurement ? { potId: pot.id, measurementId: measurement.id } : null;
  };
  const go = (place: GridPlace | null): void => {
    const cell = place && cellAt(place);
    if (cell) props.onWant(cell);
  };
  const release = () => {
    if (problem !== null || held.current !== null) say(null);
    held.current = null;
    setProblem(null);
  };
  const drop = () => {
    setDraft(null);
    release();
  };

  /** Takes what is typed in a cell. False: it stays, with the reason. */
  const commit = (
    text: string | null,
    pot: Pot,
    measurement: Measurement,
    byMachine: boolean,
    leaving = false,
  ): boolean => {
    const cell = { potId: pot.id, measurementId: measurement.id };
    if (text === null) return true;
    const shown = shownValue(list[measurement.id]?.[pot.id], measurement);
    if (text === shown) {
      drop();
      return true;
    }
    const taken = entry.take(text, pot, measurement, byMachine);
    if (taken.kind === 'refused') {
      setProblem(taken.why);
      say(`${pot.code}: ${taken.why}`, true);
      return false;
    }
    drop();
    if (taken.kind === 'pot') {
      if (!leaving) props.onScan(taken.pot);
      if (taken.said !== null) say(taken.said);
      return false;
    }
    say(taken.said);
    props.onDone(cell);
    return true;
  };

  const onKeyDown = (
    event: KeyboardEvent<HTMLInputElement>,
    place: GridPlace,
    pot: Pot,
    measurement: Measurement,
    typed: string | null,
  ): void => {
    const { key, timeStamp, ctrlKey, metaKey, altKey, shiftKey } = event;
    const byMachine = typed !== null && cameByMachine(trail.current, typed, timeStamp);
    const taken = () => commit(typed, pot, measurement, byMachine);
    const then = (next: GridPlace | null) => {
      event.preventDefault();
      if (taken()) go(next);
    };
    // Some scanners end a label with Tab.
    const endsLabel = key === 'Tab' && !shiftKey && byMachine && isLabel(typed);
    if (endsLine(event) || endsLabel) {
      event.preventDefault();
      const end = withLineEnd(trail.current, timeStamp);
      trail.current = end.trail;
      // A key held down, or the second line end of a balance, would skip pots.
      if (event.repeat || (end.again && typed === null)) return;
      const both = typed === null ? null : valueThenLabel(typed, end.burst, isLabel);
      const scanned = both && entry.find(both.label);
      if (both && scanned && typeof scanned !== 'string') {
        // A label scanned after a value was typed: the value counts, the label leads on.
        if (commit(both.value, pot, measurement, false)) props.onScan(scanned);
        return;
      }
      const step = shiftKey ? cellBefore : cellAfter;
      // A pot without a value is not left by the way: a key struck twice would shift all that follow.
      const empty = (typed ?? list[measurement.id]?.[pot.id] ?? '') === '' && !marks[pot.id];
      const cell = cellKey(measurement.id, pot.id);
      if (empty && !shiftKey && typed === null) {
        if (held.current !== cell) {
          held.current = cell;
          say(`${pot.code} has no value yet. ${EMPTY}`, true);
          return;
        }
        props.onPass({ potId: pot.id, measurementId: measurement.id });
        release();
      }
      then(step(place, size, props.way));
      return;
    }
    if (key.length === 1 && !ctrlKey && !metaKey && !altKey) {
      trail.current = withKey(trail.current, key, timeStamp);
    }
    if ((ctrlKey || metaKey) && !altKey && /^[zy]$/i.test(key) && typed === null) {
      event.preventDefault();
      const state = store.getState();
      const redo = key.toLowerCase() === 'y' || shiftKey;
      const label = redo ? redoLabel(state) : undoLabel(state);
      if (redo) state.redo();
      else state.undo();
      say(label === null ? null : `${redo ? 'Done again' : 'Undone'}: ${label}.`);
      return;
    }
    if ((ctrlKey && key === 'Enter') || (event.code === 'NumpadMultiply' && !ctrlKey)) {
      const open = nextOpen(place);
      if (!open) say('Every pot shown is recorded or marked.');
      then(open);
    } else if (event.code === 'NumpadDivide' || (ctrlKey && key.toLowerCase() === 'f')) {
      event.preventDefault();
      if (taken()) props.onFind();
    } else if (key === 'F2') {
      event.preventDefault();
      props.onAboutPot(pot);
    } else if (key === 'F8') {
      event.preventDefault();
      if (taken()) props.onNextQuestion();
    } else if (key === 'F9') {
      event.preventDefault();
      props.onAnswer();
    } else if (key === 'Escape') {
      if (typed !== null) event.stopPropagation();
      drop();
    } else if (key === 'Tab') {
      const next = { ...place, column: place.column + (shiftKey ? -1 : 1) };
      if (next.column >= 0 && next.column < size.columns) then(next);
    } else if (typed === null || !key.startsWith('Arrow') || /Up|Down/.test(key)) {
      const next = ctrlKey || altKey || metaKey ? null : cellByKey(key, place, size);
      if (next) then(next);
    }
  };

  const nextOpen = (place: GridPlace): GridPlace | null =>
    nextCellWhere(place, size, (other) => {
      if (other.row === place.row && other.column === place.column) return false;
      const cell = cellAt(other);
      if (!cell || plan.records.marks[cell.potId]) return false;
      return list[cell.measurementId]?.[cell.potId] === undefined;
    });

  const currentRow = pots.findIndex((pot) => pot.id === props.current?.potId);
  const stopRow = currentRow >= from && currentRow < to ? currentRow : from;

  return (
    <div ref={frame} className="records-frame" onScroll={scrolled} data-testid="records-grid">
      <table className="records-table">
        <thead>
          <tr>
            <th scope="col">Pot</th>
            {measurements.map((m) => (
              <th key={m.id} scope="col" className="is-number">
                {measurementLabel(m)}
                <span className="table-unit">{m.unit}</span>
              </th>
            ))}
            <th scope="col">Plant</th>
          </tr>
        </thead>
        <tbody>
          {from > 0 ? <tr style={{ height: from * ROW_PX }} aria-hidden="true" /> : null}
          {pots.slice(from, to).map((pot, i) => {
            const row = from + i;
            const mark = plan.records.marks[pot.id];
            return (
              <tr
                key={pot.id}
                style={{ height: ROW_PX }}
                className={mark ? 'is-struck' : pot.id === props.current?.potId ? 'is-current' : ''}
              >
                <th scope="row">{pot.code}</th>
                {measurements.map((m, column) => {
                  const place = { row, column };
                  const key = cellKey(m.id, pot.id);
                  const typed = draft?.key === key ? draft.text : null;
                  const asked = props.questions.get(key);
                  const isCurrent =
                    row === stopRow &&
                    m.id === (props.current?.measurementId ?? measurements[0]?.id);
                  return (
                    <td key={m.id}>
                      <ValueCell
                        place={`${row}:${column}`}
                        label={`${measurementLabel(m)} of ${pot.code}`}
                        shown={shownValue(list[m.id]?.[pot.id], m)}
                        draft={typed}
                        problem={typed === null ? null : problem}
                        question={asked?.map(({ text }) => text).join(' ')}
                        passed={props.passed.has(key)}
                        isCurrent={isCurrent}
                        onFocus={() => {
                          trail.current = withArrival(trail.current, performance.now());
                          if (held.current !== null && held.current !== key) release();
                          props.onFocusCell({ potId: pot.id, measurementId: m.id });
                        }}
                        onDraft={(text) => {
                          setDraft({ key, text });
                          release();
                        }}
                        onLeave={() => {
                          const byMachine = typed !== null && cameByMachine(trail.current, typed);
                          commit(typed, pot, m, byMachine, true);
                        }}
                        onPaste={(event) => {
                          const text = event.clipboardData.getData('text');
                          if (!/[\r\n\t]/.test(text.trim())) return;
                          event.preventDefault();
                          say(entry.pasteFrom(text, pot, m, pots));
                        }}
                        onKeyDown={(event) => onKeyDown(event, place, pot, m, typed)}
                      />
                    </td>
                  );
                })}
                <td>
                  <button
                    type="button"
                    className="records-plant"
                    tabIndex={-1}
                    aria-label={`${plantText(pot.id)}: plant in ${pot.code}`}
                    title={plantText(pot.id)}
                    onClick={() => props.onAboutPot(pot)}
                  >
                    {plantText(pot.id)}
                  </button>
                </td>
              </tr>
            );
          })}
          {to < pots.length ? (
            <tr style={{ height: (pots.length - to) * ROW_PX }} aria-hidden="true" />
          ) : null}
        </tbody>
      </table>
    </div>
  );
}

const EMPTY = 'Enter again leaves it open; d marks it dead, m missing.';

function shownValue(value: number | undefined, { decimals }: Measurement): string {
  if (value === undefined) return '';
  // An imported value may have more digits than are stated; they are kept, and shown.
  return rounded(value, decimals) === value ? fixed(value, decimals) : String(value);
}

/** The plant's code where it has one, what became of it, and whether something is noted. */
function plantWords(
  layout: Plan['layout'],
  { marks, notes }: Pick<Plan['records'], 'marks' | 'notes'>,
): (potId: string) => string {
  const codes = new Map(layout?.assignments.map((a) => [a.potId, a.plant]));
  return (potId) => {
    const mark = marks[potId];
    const code = codes.get(potId) ?? null;
    const state = mark && `${mark.mark}${mark.date === null ? '' : ` ${mark.date}`}`;
    const noted = notes?.[potId] ? 'noted' : undefined;
    const known = [state, code ?? (state === undefined ? 'alive' : null), noted];
    return known.filter(Boolean).join(' · ');
  };
}
