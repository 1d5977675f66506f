import { useEffect, useRef, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import type { disagreements } from '../../../document/queries';
import type { EntryBy } from '../../../store';
import { DeliveredPanel } from '../delivered/DeliveredPanel';
import { LogImportDialog } from '../delivered/importing/LogImportDialog';
import { DishPanel } from './DishPanel';
import { ImportDialog } from '../importing/ImportDialog';
import type { TableFile } from '../importing/tableFormat';
import { KeysPanel } from './KeysPanel';
import { LogPanel } from './LogPanel';
import { PotPanel } from './PotPanel';
import type { PanelName } from '../RecordsBar';
import type { CellPlace } from '../grid/rowView';
import type { Offer } from '../grid/QuestionLine';
import { SecondPanel } from './SecondPanel';
import { TablesPanel } from './TablesPanel';

/** What is open below the grid, and the table that is being brought in. */
export function RecordsPanels(props: {
  panel: PanelName | null;
  /** Opened by keys from within the grid: its first field gets the focus. */
  focus: boolean;
  /** With the values of both persons. */
  whole: Plan;
  /** As who enters may see it. */
  plan: Plan;
  by: EntryBy;
  pots: readonly Pot[];
  pot: Pot | null;
  measurement: Measurement | undefined;
  /** When values entered now were taken, where it is said. */
  day: string | undefined;
  differing: ReturnType<typeof disagreements>;
  onFocused: () => void;
  onClose: () => void;
  onBy: (who: EntryBy) => void;
  onGo: (cell: CellPlace) => void;
  say: (text: string | null, holds?: boolean, offer?: Offer | null) => void;
}) {
  const { panel, whole, plan, by, measurement, say, focus, onFocused } = props;
  const frame = useRef<HTMLElement>(null);
  const [table, setTable] = useState<TableFile | null>(null);
  const [logTable, setLogTable] = useState<TableFile | null>(null);
  useEffect(() => {
    if (!focus) return;
    frame.current?.querySelector<HTMLElement>('select, input, textarea, button')?.focus();
    onFocused();
  }, [focus, onFocused]);
  return (
    <>
      {panel ? (
        <section
          ref={frame}
          className="records-panel"
          aria-label="Below the grid"
          onKeyDown={(event) => {
            if (event.key !== 'Escape') return;
            // A field keeps what is typed when it is left.
            if (event.target instanceof HTMLElement) event.target.blur();
            props.onClose();
          }}
        >
          {panel === 'pot' ? <PotPanel plan={plan} pot={props.pot} by={by} /> : null}
          {panel === 'dish' && measurement ? (
            <DishPanel
              {...{ plan, measurement, by, say }}
              pots={props.pots}
              day={props.day}
              onGo={props.onGo}
            />
          ) : null}
          {panel === 'second' ? (
            <SecondPanel
              by={by}
              differing={props.differing}
              measurementId={measurement?.id ?? null}
              onBy={props.onBy}
              onGo={props.onGo}
            />
          ) : null}
          {panel === 'log' ? <LogPanel plan={plan} /> : null}
          {panel === 'delivered' ? (
            <DeliveredPanel plan={whole} onTable={setLogTable} say={say} />
          ) : null}
          {panel === 'tables' ? <TablesPanel plan={whole} onTable={setTable} say={say} /> : null}
          {panel === 'keys' ? <KeysPanel /> : null}
        </section>
      ) : null}
      {table ? (
        <ImportDialog plan={whole} file={table} say={say} onClose={() => setTable(null)} />
      ) : null}
      {logTable ? (
        <LogImportDialog plan={whole} file={logTable} say={say} onClose={() => setLogTable(null)} />
      ) : null}
    </>
  );
}
