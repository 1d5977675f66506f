import { memo, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { trayCode, type Pot } from '../../derive';
import { cellKey, measuredPotsOf, openQuestions } from '../../derive/recordNotices';
import { blindPlan } from '../../derive/secondEntry';
import { acceptNotice } from '../../document/commands';
import {
  disagreements,
  measurementLabel,
  measurementsInOrder,
  progressByTray,
} from '../../document/queries';
import { potsInOrder, type PotOrder } from '../../document/records';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, EmptyState, today } from '../../ui';
import type { Plan } from '../../../shared-types/plan';
import type { Measurement } from '../../../shared-types/trial';
import type { EnterWay } from './cellKeys';
import { DishPanel } from './DishPanel';
import { ImportDialog } from './ImportDialog';
import { KeysPanel } from './KeysPanel';
import { NO_KEYS } from './keyTrail';
import { LogPanel } from './LogPanel';
import { PotPanel } from './PotPanel';
import { passedOverIn } from './gaps';
import { QuestionLine, type Said } from './QuestionLine';
import { RecordsBar, type Moment, type PanelName } from './RecordsBar';
import { RecordsGrid, type Cell } from './RecordsGrid';
import { SecondPanel } from './SecondPanel';
import { TablesPanel } from './TablesPanel';
import { TrayRow } from './TrayRow';
import { useEntry } from './useEntry';
import { useScanner } from './useScanner';
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
  const dispatch = useDispatch();
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
  const [said, setWords] = useState<Said | null>(null);
  const setSaid = useCallback((text: string | null, holds = false) => {
    setWords(text === null ? null : { text, holds });
  }, []);
  // Cells that were left open by Enter.
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [table, setTable] = useState<{ name: string; text: string } | null>(null);
  const [focusPanel, setFocusPanel] = useState(false);
  // Of all keys, whether they go into a cell or not.
  const trail = useRef(NO_KEYS);
  const findField = useRef<HTMLInputElement>(null);
  const panelFrame = useRef<HTMLElement>(null);

  const { rack, layout, trial, records } = plan;
  const measured = measuredPotsOf(rack, layout);
  const pots = useMemo(() => {
    const plants = new Map(layout?.assignments.map((a) => [a.potId, a.plant]));
    const shown = trayId === null ? measured : measured.filter((pot) => pot.trayId === trayId);
    return potsInOrder(shown, order, (id) => plants.get(id) ?? null);
  }, [measured, layout, trayId, order]);
  const measurements = useMemo(() => {
    const all = measurementsInOrder({ trial });
    const some = all.filter((m) => moment === 'all' || m.moment === moment);
    return some.length > 0 ? some : all;
  }, [trial, moment]);

  const entry = useEntry(plan, by);
  const questions = by === 'first' ? openQuestions(plan) : NO_QUESTIONS;
  const differing = useMemo(() => disagreements(whole, measured), [whole, measured]);
  const focused = measurements.find((m) => m.id === current?.measurementId) ?? measurements[0];
  const values = records.values[focused?.id ?? ''];
  const passed = passedCells(pots, measurements, records, left);
  const trays = useMemo(() => {
    const codes = new Map(
      rack.shelves.flatMap((s) => s.trays.map((t) => [t.id, trayCode(s.number, t.letter)])),
    );
    return progressByTray(measured, values ?? {}, records.marks).map((tray) => ({
      ...tray,
      code: codes.get(tray.trayId) ?? tray.trayId,
    }));
  }, [rack, measured, values, records.marks]);

  const goToPot = useCallback(
    (pot: Pot, measurementId?: string) => {
      if (!measured.some(({ id }) => id === pot.id)) {
        setSaid(`Pot ${pot.code} is not measured: a guard pot, or not in the layout.`);
        return;
      }
      setTrayId((shown) => (shown === null || shown === pot.trayId ? shown : null));
      const column = measurementId ?? focused?.id;
      if (column !== undefined) setWanted({ potId: pot.id, measurementId: column });
      setSaid(`Pot ${pot.code}.`);
    },
    [measured, focused?.id, setSaid],
  );
  const find = (text: string): boolean => {
    const found = entry.find(text);
    if (typeof found === 'string') setSaid(found);
    else goToPot(found);
    return typeof found !== 'string';
  };
  // The listener stays the same while what it looks in changes.
  const latestFind = useRef(find);
  useEffect(() => {
    latestFind.current = find;
  });
  useScanner(
    trail,
    useCallback((text: string) => latestFind.current(text), []),
    useCallback(() => setWanted(current), [current]),
  );

  const here = current && questions.get(cellKey(current.measurementId, current.potId));
  const asked = here ? current : done;
  const asking = (asked && questions.get(cellKey(asked.measurementId, asked.potId))) ?? [];
  const answer = () => {
    for (const { kind, about } of asking) {
      const reason = 'Looked at again and found right';
      dispatch(acceptNotice, { kind, about, reason, date: today() });
    }
    if (asking.length > 0) setSaid('Kept as it is; the report says that it was looked at again.');
  };
  const nextQuestion = () => {
    const inQuestion = [...questions.values()].flatMap((list) => list.slice(0, 1));
    if (inQuestion.length === 0) setSaid('No value is in question.');
    const at = inQuestion.findIndex(
      (q) => q.potId === current?.potId && q.measurementId === current.measurementId,
    );
    const next = inQuestion[(at + 1) % Math.max(1, inQuestion.length)];
    const pot = next && measured.find(({ id }) => id === next.potId);
    if (!next || !pot) return;
    setMoment('all');
    goToPot(pot, next.measurementId);
  };
  const openPanel = (name: PanelName | null) => {
    setPanel(name);
    if (name === null && current) setWanted(current);
  };
  const aboutPot = (pot: Pot) => {
    if (focused) setCurrent({ potId: pot.id, measurementId: focused.id });
    select([`pot:${pot.id}`]);
    setPanel('pot');
    setFocusPanel(true);
  };
  useEffect(() => {
    if (!focusPanel) return;
    panelFrame.current?.querySelector<HTMLElement>('select, input, textarea, button')?.focus();
    setFocusPanel(false);
  }, [focusPanel]);

  const total = trays.reduce((n, tray) => n + tray.pots, 0);
  const open = trays.reduce((n, tray) => n + tray.open, 0);
  const over = pots.filter((pot) => focused && passed.has(cellKey(focused.id, pot.id))).length;
  const what = focused ? measurementLabel(focused) : '';
  const summary = `${what}${by === 'second' ? ', second entry' : ''}: ${total - open} of ${total} pots done${over > 0 ? `, ${over} passed over` : ''}.`;
  const reached = useCallback(() => setWanted(null), []);
  const currentPot = measured.find((pot) => pot.id === current?.potId) ?? null;

  return (
    <div className="records-pane">
      <RecordsBar
        moment={moment}
        order={order}
        way={way}
        panel={panel}
        counts={{ second: differing.length, log: records.incidents.length }}
        findField={findField}
        onMoment={setMoment}
        onOrder={setOrder}
        onWay={setWay}
        onFind={find}
        onPanel={openPanel}
      />
      <TrayRow trays={trays} chosen={trayId} what={what} onChoose={setTrayId} />
      <QuestionLine
        questions={asking}
        elsewhere={!here}
        said={said}
        summary={by === 'second' ? `Second entry. ${summary}` : summary}
        onGo={() => setWanted(asked)}
        onAnswer={answer}
      />
      <RecordsGrid
        plan={plan}
        pots={pots}
        measurements={measurements}
        way={way}
        entry={entry}
        trail={trail}
        questions={questions}
        passed={passed}
        current={current}
        wanted={wanted}
        onReached={reached}
        onWant={setWanted}
        onFocusCell={(cell) => {
          setCurrent(cell);
          select([`pot:${cell.potId}`]);
        }}
        onDone={setDone}
        onScan={goToPot}
        onAboutPot={aboutPot}
        onFind={() => findField.current?.focus()}
        onNextQuestion={nextQuestion}
        onAnswer={answer}
        onPass={({ measurementId, potId }) =>
          setLeft(new Set([...left, cellKey(measurementId, potId)]))
        }
        say={setSaid}
      />
      {panel ? (
        <section
          ref={panelFrame}
          className="records-panel"
          aria-label="Below the grid"
          onKeyDown={(event) => {
            if (event.key !== 'Escape') return;
            // A field keeps what is typed when it is left.
            if (event.target instanceof HTMLElement) event.target.blur();
            openPanel(null);
          }}
        >
          {panel === 'pot' ? <PotPanel plan={plan} pot={currentPot} by={by} /> : null}
          {panel === 'dish' && focused ? (
            <DishPanel plan={plan} measurement={focused} pots={pots} by={by} say={setSaid} />
          ) : null}
          {panel === 'second' ? (
            <SecondPanel
              by={by}
              differing={differing}
              measurementId={focused?.id ?? null}
              onBy={(who) => {
                enterAs(who);
                setDone(null);
                setLeft(new Set());
                setSaid(null);
              }}
              onGo={setWanted}
            />
          ) : null}
          {panel === 'log' ? <LogPanel plan={plan} /> : null}
          {panel === 'tables' ? (
            <TablesPanel plan={whole} onTable={setTable} say={setSaid} />
          ) : null}
          {panel === 'keys' ? <KeysPanel /> : null}
        </section>
      ) : null}
      {table ? (
        <ImportDialog
          plan={whole}
          name={table.name}
          text={table.text}
          say={setSaid}
          onClose={() => setTable(null)}
        />
      ) : null}
    </div>
  );
}

/** Keys of the cells that were passed over and have neither value nor mark yet. */
function passedCells(
  pots: readonly Pot[],
  measurements: readonly Measurement[],
  { values, marks }: Plan['records'],
  left: ReadonlySet<string>,
): ReadonlySet<string> {
  const passed = new Set<string>();
  for (const { id } of measurements) {
    const recorded = values[id] ?? NOTHING;
    for (const potId of passedOverIn(pots, recorded, marks)) passed.add(cellKey(id, potId));
  }
  for (const key of left) {
    const [measurementId = '', potId = ''] = key.split(' ');
    if (values[measurementId]?.[potId] === undefined && !marks[potId]) passed.add(key);
  }
  return passed;
}

const NOTHING = Object.freeze({});
const NO_QUESTIONS: ReturnType<typeof openQuestions> = new Map();
