import { memo, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Pot } from '../../engine/geometry';
import { cellKey } from '../../derive/records/recordNotices';
import { blindPlan } from '../../derive/records/secondEntry';
import { disagreements, measurementLabel } from '../../document/queries';
import type { PotOrder } from '../../document/records';
import { usePlanStore, useSession } from '../../store/context';
import { Button, EmptyState } from '../../ui';
import type { EnterWay } from './cellKeys';
import { NO_KEYS } from './keyTrail';
import { QuestionLine, type Said } from './QuestionLine';
import { RecordsBar, type Moment, type PanelName } from './RecordsBar';
import { RecordsGrid } from './RecordsGrid';
import { RecordsPanels } from './RecordsPanels';
import type { Cell } from './rowView';
import { TrayRow } from './TrayRow';
import { useEntry } from './useEntry';
import { useQuestions } from './useQuestions';
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
  const [moment, setMoment] = useState<Moment>('all');
  const [order, setOrder] = useState<PotOrder>('there-and-back');
  const [way, setWay] = useState<EnterWay>('down');
  const by = useSession((s) => s.entryBy);
  const enterAs = useSession((s) => s.enterAs);
  const plan = by === 'second' ? blindPlan(whole) : whole;
  const [trayId, setTrayId] = useState<string | null>(null);
  const [panel, setPanel] = useState<PanelName | null>(null);
  const [current, setCurrent] = useState<Cell | null>(null);
  const [done, setDone] = useState<Cell | null>(null);
  const [wanted, setWanted] = useState<Cell | null>(null);
  const [said, say] = useSaid();
  // Cells that were left open by Enter.
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [focusPanel, setFocusPanel] = useState(false);
  // Of all keys, whether they go into a cell or not.
  const trail = useRef(NO_KEYS);
  const findField = useRef<HTMLInputElement>(null);

  const { measured, pots, measurements } = useShownPots(plan, { trayId, order, moment });
  const entry = useEntry(plan, by);
  const asked = useQuestions(plan, by, { current, done }, say);
  const differing = useMemo(() => disagreements(whole, measured), [whole, measured]);
  const focused = measurements.find((m) => m.id === current?.measurementId) ?? measurements[0];
  const passed = passedCells(pots, measurements, plan.records, left);
  const trays = useTrays(plan, measured, focused?.id ?? '');

  const goToPot = (pot: Pot, measurementId?: string) => {
    if (!measured.some(({ id }) => id === pot.id)) {
      say(`Pot ${pot.code} is not measured: a guard pot, or not in the layout.`);
      return;
    }
    setTrayId((shown) => (shown === null || shown === pot.trayId ? shown : null));
    const column = measurementId ?? focused?.id;
    if (column !== undefined) setWanted({ potId: pot.id, measurementId: column });
    say(`Pot ${pot.code}.`);
  };
  const find = (text: string): boolean => {
    const found = entry.find(text);
    if (typeof found === 'string') say(found);
    else goToPot(found);
    return typeof found !== 'string';
  };
  useScannedLabels(trail, find, () => setWanted(current));
  const acts = {
    reached: useCallback(() => setWanted(null), []),
    want: setWanted,
    focusCell: (cell: Cell) => {
      setCurrent(cell);
      select([`pot:${cell.potId}`]);
    },
    done: setDone,
    scan: goToPot,
    aboutPot: (pot: Pot) => {
      if (focused) setCurrent({ potId: pot.id, measurementId: focused.id });
      select([`pot:${pot.id}`]);
      setPanel('pot');
      setFocusPanel(true);
    },
    find: () => findField.current?.focus(),
    nextQuestion: () => {
      const next = asked.next();
      const pot = next && measured.find(({ id }) => id === next.potId);
      if (!pot) return;
      setMoment('all');
      goToPot(pot, next.measurementId);
    },
    answer: asked.answer,
    pass: ({ measurementId, potId }: Cell) =>
      setLeft(new Set([...left, cellKey(measurementId, potId)])),
    say,
  };
  const openPanel = (name: PanelName | null) => {
    setPanel(name);
    if (name === null && current) setWanted(current);
  };

  const total = trays.reduce((n, tray) => n + tray.pots, 0);
  const open = trays.reduce((n, tray) => n + tray.open, 0);
  const over = focused ? passedOf(passed, focused.id, pots) : 0;
  const what = focused ? measurementLabel(focused) : '';
  const summary = `${what}${by === 'second' ? ', second entry' : ''}: ${total - open} of ${total} pots done${over > 0 ? `, ${over} passed over` : ''}.`;

  return (
    <div className="records-pane">
      <RecordsBar
        {...{ moment, order, way, panel, findField }}
        counts={{ second: differing.length, log: plan.records.incidents.length }}
        onMoment={setMoment}
        onOrder={setOrder}
        onWay={setWay}
        onFind={find}
        onPanel={openPanel}
      />
      <TrayRow trays={trays} chosen={trayId} what={what} onChoose={setTrayId} />
      <QuestionLine
        questions={asked.asking}
        elsewhere={asked.elsewhere}
        said={said}
        summary={by === 'second' ? `Second entry. ${summary}` : summary}
        onGo={() => setWanted(asked.about)}
        onAnswer={asked.answer}
      />
      <RecordsGrid
        {...{ plan, pots, measurements, way, entry, trail, passed, current, wanted, acts }}
        questions={asked.questions}
      />
      <RecordsPanels
        {...{ panel, whole, plan, by, pots, differing, say }}
        focus={focusPanel}
        pot={measured.find((pot) => pot.id === current?.potId) ?? null}
        measurement={focused}
        onFocused={useCallback(() => setFocusPanel(false), [])}
        onClose={() => openPanel(null)}
        onBy={(who) => {
          enterAs(who);
          setDone(null);
          setLeft(new Set());
          say(null);
        }}
        onGo={setWanted}
      />
    </div>
  );
}

/** What the line above the grid says, and how to say it; the latter stays the same function. */
function useSaid() {
  const [said, setSaid] = useState<Said | null>(null);
  const say = useCallback((text: string | null, holds = false) => {
    setSaid(text === null ? null : { text, holds });
  }, []);
  return [said, say] as const;
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
