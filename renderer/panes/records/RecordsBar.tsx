import type { RefObject } from 'react';
import type { PotOrder } from '../../document/records';
import { Button, Select } from '../../ui';
import { DayPicker } from './DayPicker';
import type { EnterWay } from './grid/cellKeys';

export type Timepoint = 'all' | 'start' | 'interim' | 'harvest';
export type PanelName = 'pot' | 'dish' | 'second' | 'log' | 'delivered' | 'tables' | 'keys';

const panels: readonly { name: PanelName; label: string }[] = [
  { name: 'pot', label: 'This pot' },
  { name: 'dish', label: 'Tare and fill' },
  { name: 'second', label: 'Second entry' },
  { name: 'log', label: 'Incidents' },
  { name: 'delivered', label: 'Delivered' },
  { name: 'tables', label: 'Import, export' },
  { name: 'keys', label: 'Keys' },
];

/** What is shown and in which order, where to find a pot, and what else opens below the grid. */
export function RecordsBar(props: {
  timepoint: Timepoint;
  order: PotOrder;
  way: EnterWay;
  panel: PanelName | null;
  /** Figures beside a panel's name, such as the count of incidents. */
  counts: Readonly<Partial<Record<PanelName, number>>>;
  /** The day on which values entered now were taken; null: it is not asked. */
  day: { value: string; other: boolean } | null;
  findField: RefObject<HTMLInputElement | null>;
  /** Of the one who enters; empty: to be asked. */
  initials: string;
  onTimepoint: (timepoint: Timepoint) => void;
  onOrder: (order: PotOrder) => void;
  onDay: (day: string) => void;
  onWay: (way: EnterWay) => void;
  onInitials: (initials: string) => void;
  onFind: (text: string) => void;
  onPanel: (panel: PanelName | null) => void;
}) {
  return (
    <div className="records-bar">
      <Select
        label="Measured"
        value={props.timepoint}
        options={[
          { value: 'all', label: 'at any time' },
          { value: 'start', label: 'at the start' },
          { value: 'interim', label: 'in between' },
          { value: 'harvest', label: 'at harvest' },
        ]}
        onCommit={props.onTimepoint}
      />
      <Select
        label="Walk"
        testId="records-order"
        value={props.order}
        options={[
          { value: 'there-and-back', label: 'there and back' },
          { value: 'rows', label: 'row by row' },
          { value: 'columns', label: 'column by column' },
          { value: 'plants', label: 'by plant code' },
        ]}
        onCommit={props.onOrder}
      />
      <Select
        label="Enter goes to"
        testId="records-way"
        value={props.way}
        options={[
          { value: 'down', label: 'the next pot' },
          { value: 'across', label: 'the next measurement' },
        ]}
        onCommit={props.onWay}
      />
      {props.day ? (
        <DayPicker
          label={props.day.other ? 'Taken on another day' : 'Values taken on'}
          testId="records-day"
          value={props.day.value}
          onCommit={props.onDay}
        />
      ) : null}
      <InitialsField value={props.initials} onCommit={props.onInitials} />
      <div className="field">
        <label htmlFor="records-find">Find or scan</label>
        <input
          ref={props.findField}
          id="records-find"
          className="input"
          data-testid="records-find"
          placeholder="pot or plant"
          autoComplete="off"
          spellCheck={false}
          onFocus={(event) => event.target.select()}
          onKeyDown={(event) => {
            if (event.key !== 'Enter') return;
            event.preventDefault();
            const text = event.currentTarget.value;
            if (text.trim() === '') return;
            event.currentTarget.value = '';
            props.onFind(text);
          }}
        />
      </div>
      <div className="records-panels" role="group" aria-label="Open below the grid">
        {panels.map(({ name, label }) => (
          <Button
            key={name}
            tone="quiet"
            pressed={props.panel === name}
            data-testid={`records-panel-${name}`}
            onClick={() => props.onPanel(props.panel === name ? null : name)}
          >
            {label}
            {props.counts[name] ? (
              <span className="records-count">{props.counts[name]}</span>
            ) : null}
          </Button>
        ))}
      </div>
    </div>
  );
}

const MOST_INITIALS = 8;

/** Asked once a session, and never in the way: values are taken without, too. */
function InitialsField(props: { value: string; onCommit: (initials: string) => void }) {
  return (
    <div className={`field records-initials${props.value === '' ? ' is-asking' : ''}`}>
      <label htmlFor="records-initials">Who enters?</label>
      <input
        id="records-initials"
        className="input"
        data-testid="records-initials"
        placeholder="initials"
        title="Kept with each value that is entered from now on"
        maxLength={MOST_INITIALS}
        autoComplete="off"
        spellCheck={false}
        value={props.value}
        onChange={(event) => props.onCommit(event.target.value.trim())}
      />
    </div>
  );
}
