import { trayCode } from '../../derive';
import { useState } from 'react';
import { measurementLabel, measurementsInOrder, recordProgress } from '../../document/queries';
import { recordsCsv } from '../../document/records';
import { usePlanStore, useSession } from '../../store/context';
import { useHostOffer } from '../../store/hostContext';
import { Button, EmptyState, Select } from '../../ui';
import { ImportDialog } from './ImportDialog';
import { RecordsGrid } from './RecordsGrid';
import './records.css';

/** Weigh, count, type, next; or bring a table in. */
export function RecordsSide() {
  const plan = usePlanStore((s) => s.plan);
  const goTo = useSession((s) => s.goTo);
  const host = useHostOffer();
  const [moment, setMoment] = useState<'all' | 'start' | 'interim' | 'harvest'>('all');
  const [trayId, setTrayId] = useState('all');
  const [table, setTable] = useState<{ name: string; text: string } | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  if (!plan) return null;
  const all = measurementsInOrder(plan);
  const ready = plan.layout !== null || plan.trial?.factors.length === 0;
  if (all.length === 0 || !ready) {
    return (
      <EmptyState
        title="Nothing to record yet"
        actions={
          <Button tone="primary" onClick={() => goTo(all.length === 0 ? 'trial' : 'layout')}>
            {all.length === 0 ? 'Say what is measured' : 'Draw the layout'}
          </Button>
        }
      >
        Records hang on pots that the layout has given a treatment, one column a measurement.
      </EmptyState>
    );
  }
  const measurements = moment === 'all' ? all : all.filter((m) => m.moment === moment);
  const trays = plan.rack.shelves.flatMap((shelf) =>
    shelf.trays.map((tray) => ({
      value: tray.id,
      label: `Tray ${trayCode(shelf.number, tray.letter)}`,
    })),
  );
  const fail = (error: unknown) => setSaid(error instanceof Error ? error.message : String(error));
  return (
    <div className="records-pane">
      <div className="records-bar">
        <Select
          label="Show"
          value={moment}
          options={[
            { value: 'all', label: 'all measurements' },
            { value: 'start', label: 'at the start' },
            { value: 'interim', label: 'in between' },
            { value: 'harvest', label: 'at harvest' },
          ]}
          onCommit={setMoment}
        />
        <Select
          label="Where"
          value={trayId}
          options={[{ value: 'all', label: 'the whole rack' }, ...trays]}
          onCommit={setTrayId}
        />
        <div className="section-actions">
          <Button
            data-testid="import"
            onClick={() => {
              host.open('table').then((opened) => {
                if (opened) setTable({ name: opened.ref.name, text: opened.text });
              }, fail);
            }}
          >
            Import table…
          </Button>
          <Button
            data-testid="export"
            onClick={() => {
              host
                .exportText(`${plan.title} – records.csv`, 'csv', recordsCsv(plan))
                .then((done) => setSaid(done ? 'Records exported.' : null), fail);
            }}
          >
            Export CSV…
          </Button>
        </div>
      </div>
      <p className="records-progress" role="status">
        {said ??
          measurements
            .map((m) => {
              const trays = recordProgress(plan, m.id);
              const sum = (pick: (t: (typeof trays)[number]) => number) =>
                trays.reduce((n, t) => n + pick(t), 0);
              return `${measurementLabel(m)}: ${sum((t) => t.recorded)} of ${sum((t) => t.pots)}`;
            })
            .join(' · ')}
      </p>
      <RecordsGrid
        plan={plan}
        measurements={measurements}
        trayId={trayId === 'all' ? null : trayId}
        say={setSaid}
      />
      {table ? (
        <ImportDialog
          plan={plan}
          name={table.name}
          text={table.text}
          say={setSaid}
          onClose={() => setTable(null)}
        />
      ) : null}
    </div>
  );
}
