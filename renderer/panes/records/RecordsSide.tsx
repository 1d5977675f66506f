import { memo, useCallback, useEffect, useMemo, useRef } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Pot } from '../../engine/geometry';
import { blindPlan } from '../../derive/records/secondEntry';
import { disagreements, measurementLabel } from '../../document/queries';
import { usePlanStore, useSession, useStores } from '../../store/context';
import { Button, EmptyState } from '../../ui';
import { LastEntry } from './LastEntry';
import { firstCell } from './grid/firstCell';
import { NO_KEYS } from './grid/keyTrail';
import { entrySummary } from './grid/entrySummary';
import { QuestionLine } from './grid/QuestionLine';
import { RecordsBar, type PanelName } from './RecordsBar';
import { RecordsGrid } from './grid/RecordsGrid';
import { RecordsPanels } from './panels/RecordsPanels';
import type { CellPlace } from './grid/rowView';
import { TrayRow } from './grid/TrayRow';
import { useDayTaken } from './useDayTaken';
import { useEntry } from './grid/useEntry';
import { useQuestions } from './grid/useQuestions';
import { useCells, useGridView, usePanel, useSaid } from './useRecording';
import { useFinding } from './useFinding';
import { useLineEnds } from './useLineEnds';
import { useScanner } from './useScanner';
import { passedCells, passedOf, useShownPots, useTrays } from './useShownPots';
import './records.css';

/**
 * Weigh, count, type, next; or bring a table in. It reads the stores itself: what is drawn anew
 * around it, for a notice or a picture, leaves the grid alone.
 */
export const RecordsSide = memo(function RecordsSide() {
  const plan = usePlanStore((s) => s.plan);
  const goTo = useSession((s) => s.goTo);
  if (!plan) return null;
  const measured = (plan.trial?.measurements.length ?? 0) > 0;
  const ready = plan.layout !== null || plan.trial?.factors.length === 0;
  if (!measured || !ready) {
    return (
      <EmptyState
        title="Nothing to record yet"
        actions={
          <Button tone="primary" onClick={() => goTo(measured ? 'layout' : 'trial')}>
            {measured ? 'Draw the layout' : 'Say what is measured'}
          </Button>
        }
      >
        Records hang on pots that the layout has given a treatment, one column a measurement.
      </EmptyState>
    );
  }
  return <Recording plan={plan} />;
});

function Recording({ plan: whole }: { plan: Plan }) {
  const select = useSession((s) => s.select);
  const by = useSession((s) => s.entryBy);
  const enterAs = useSession((s) => s.enterAs);
  const initials = useSession((s) => s.initials[s.entryBy]);
  const setInitials = useSession((s) => s.setInitials);
  const plan = by === 'second' ? blindPlan(whole) : whole;
  const view = useGridView();
  const cells = useCells();
  const { panel, setPanel, ...panelFocus } = usePanel();
  const [said, say] = useSaid();
  // Of all keys, whether they go into a cell or not.
  const trail = useRef(NO_KEYS);
  const findField = useRef<HTMLInputElement>(null);

  const { current, wanted, setCurrent, setWanted } = cells;
  const { measured, pots, measurements } = useShownPots(plan, view);
  const days = useDayTaken(plan);
  const entry = useEntry(plan, by, days.dayOf);
  const asked = useQuestions(plan, by, cells, say);
  const differing = useMemo(() => disagreements(whole, measured), [whole, measured]);
  const focused = measurements.find((m) => m.id === current?.measurementId) ?? measurements[0];
  const passed = passedCells(pots, measurements, plan.records, cells.left);
  const trays = useTrays(plan, measured, focused?.id ?? '');
  const what = focused ? measurementLabel(focused) : '';

  const { session } = useStores();
  useCursorAtFirst(
    () => firstCell(plan, pots, measurements, session.getState().selection),
    setWanted,
  );
  const { goToPot, reach, find } = useFinding(plan, measured, {
    entry,
    say,
    want: setWanted,
    showTrayOf: view.showTrayOf,
    measurementId: focused?.id,
  });
  useScannedLabels(trail, find, () => setWanted(current));
  const acts = {
    reached: cells.reached,
    want: setWanted,
    pass: cells.pass,
    done: (cell: CellPlace) => {
      cells.setDone(cell);
      cells.setEnded(null);
    },
    wentOn: useLineEnds(view.order, cells.setEnded),
    scan: reach,
    answer: asked.answer,
    say,
    focusCell: (cell: CellPlace) => {
      setCurrent(cell);
      select([`pot:${cell.potId}`]);
    },
    aboutPot: (pot: Pot) => {
      if (focused) setCurrent({ potId: pot.id, measurementId: focused.id });
      select([`pot:${pot.id}`]);
      panelFocus.openPot();
    },
    find: () => findField.current?.focus(),
    nextQuestion: () => {
      const next = asked.next();
      const pot = next && measured.find(({ id }) => id === next.potId);
      if (!pot) return;
      view.setTimepoint('all');
      goToPot(pot, next.measurementId);
    },
  };
  const openPanel = (name: PanelName | null) => {
    setPanel(name);
    if (name === null && current) setWanted(current);
  };

  return (
    <div className="records-pane">
      <RecordsBar
        {...{ ...view, panel, findField, initials }}
        onInitials={setInitials}
        counts={{ second: differing.length, log: plan.records.incidents.length }}
        day={
          focused && by === 'first'
            ? { value: days.shown(focused), other: days.dayOf(focused) !== undefined }
            : null
        }
        onDay={(day) => focused && days.choose(focused, day)}
        onTimepoint={view.setTimepoint}
        onOrder={view.setOrder}
        onWay={view.setWay}
        onFind={find}
        onPanel={openPanel}
      />
      <TrayRow trays={trays} chosen={view.trayId} what={what} onChoose={view.setTrayId} />
      <LastEntry {...{ plan, pots, current }} done={cells.done} ended={cells.ended} />
      <QuestionLine
        questions={asked.asking}
        elsewhere={asked.elsewhere}
        said={said}
        summary={entrySummary(what, by, trays, focused ? passedOf(passed, focused.id, pots) : 0)}
        onGo={() => setWanted(asked.about)}
        onAnswer={asked.answer}
      />
      <RecordsGrid
        {...{ plan, pots, measurements, way: view.way, entry }}
        {...{ trail, passed, current, wanted, acts }}
        questions={asked.questions}
      />
      <RecordsPanels
        {...{ panel, whole, plan, by, pots, differing, say }}
        focus={panelFocus.focus}
        pot={measured.find((pot) => pot.id === current?.potId) ?? null}
        measurement={focused}
        day={focused && days.dayOf(focused)}
        onFocused={panelFocus.focused}
        onClose={() => openPanel(null)}
        onBy={(who) => {
          enterAs(who);
          cells.forget();
          say(null);
        }}
        onGo={setWanted}
      />
    </div>
  );
}

/** The cursor begins at a cell without being put there; once for as long as the grid is shown. */
function useCursorAtFirst(
  cell: () => CellPlace | null,
  want: (cell: CellPlace | null) => void,
): void {
  const begun = useRef(false);
  useEffect(() => {
    if (begun.current) return;
    begun.current = true;
    want(cell());
  });
}

/** Labels that are scanned outside the cells lead to their pots, too. */
function useScannedLabels(
  trail: Parameters<typeof useScanner>[0],
  find: (text: string) => boolean,
  back: () => void,
) {
  // The listener stays the same while what it looks in changes.
  const latest = useRef({ find, back });
  useEffect(() => {
    latest.current = { find, back };
  });
  useScanner(
    trail,
    useCallback((text: string) => latest.current.find(text), []),
    useCallback(() => latest.current.back(), []),
  );
}
