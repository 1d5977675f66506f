import { useState } from 'react';
import { deliveredMeasures } from '../../../../shared-types/delivered';
import type { Plan } from '../../../../shared-types/plan';
import { deliveredLogOf, deliveredIn } from '../../../derive';
import { removeDelivered } from '../../../document/commands';
import { blindedSince, deliveredUnitName, deliveredUnits } from '../../../document/queries';
import { useDispatch } from '../../../store/context';
import { Button, Table, today, type TableColumn } from '../../../ui';
import type { TableFile } from '../importing/tableFormat';
import { useOpenTable } from '../importing/useOpenTable';
import { DeliveredCurve } from './DeliveredCurve';
import { DeliveredForm } from './DeliveredForm';
import { sayDay } from '../../../words';

interface Row {
  unitId: string;
  date: string;
}

/** What units got of water and light, day by day: entry, curves of the unit in hand, the log. */
export function DeliveredPanel(props: {
  plan: Plan;
  onTable: (file: TableFile) => void;
  say: (text: string | null) => void;
}) {
  const { plan } = props;
  const dispatch = useDispatch();
  const open = useOpenTable(props.onTable, props.say);
  const units = deliveredUnits(plan);
  const [unitId, setUnitId] = useState(units[0]?.id ?? '');
  const [date, setDate] = useState(today);
  const unit = units.find(({ id }) => id === unitId) ?? units[0];
  if (!unit) return <p className="field-remark">The rack has no shelf, tray or reservoir yet.</p>;
  const delivered = plan.records.delivered ?? {};
  const log = Object.entries(delivered)
    .flatMap(([id, byDay]) => Object.keys(byDay).map((day): Row => ({ unitId: id, date: day })))
    .sort((a, b) => (a.date === b.date ? 0 : a.date < b.date ? 1 : -1));
  const series = deliveredLogOf(plan).series.filter((one) => one.unit.id === unit.id);
  const columns: TableColumn<Row>[] = [
    {
      key: 'date',
      head: 'Day',
      cell: (row) => <span className="records-day">{sayDay(row.date)}</span>,
    },
    { key: 'unit', head: 'Unit', cell: (row) => deliveredUnitName(plan, row.unitId) },
    ...deliveredMeasures.map((measure): TableColumn<Row> => {
      const { name, unit: sign, say } = deliveredIn(measure, plan.display.lengths);
      return {
        key: measure,
        head: name,
        numeric: true,
        ...(sign ? { unit: sign } : {}),
        cell: (row) => {
          const value = delivered[row.unitId]?.[row.date]?.[measure];
          return value === undefined ? '' : say(value, false);
        },
      };
    }),
    {
      key: 'remove',
      head: '',
      cell: (row) => (
        <Button
          tone="quiet"
          aria-label={`Remove ${deliveredUnitName(plan, row.unitId)} on ${sayDay(row.date)}`}
          onClick={(event) => {
            event.stopPropagation();
            dispatch(removeDelivered, row);
          }}
        >
          Remove
        </Button>
      ),
    },
  ];
  return (
    <div className="records-form" data-testid="delivered-panel">
      <DeliveredForm
        key={unit.id}
        {...{ plan, unit, units, date }}
        onDate={setDate}
        onUnit={setUnitId}
      />
      <div className="section-actions">
        <Button data-testid="delivered-import" onClick={open}>
          Log from a logger’s table…
        </Button>
      </div>
      {series.length > 0 ? (
        <div className="delivered-curves">
          {series.map((one) => (
            <DeliveredCurve
              key={one.measure}
              series={one}
              blinded={blindedSince(plan) !== null}
              lengths={plan.display.lengths}
            />
          ))}
        </div>
      ) : null}
      {log.length === 0 ? (
        <p className="field-remark">
          Nothing has been logged yet. One figure a day of each reservoir and shelf shows what the
          plants really got.
        </p>
      ) : (
        <Table
          caption="What was delivered, the latest day first; a click on a line opens it for a change"
          testId="delivered-log"
          columns={columns}
          rows={log}
          rowKey={(row) => `${row.unitId} ${row.date}`}
          isMarked={(row) => row.unitId === unit.id && row.date === date}
          onRowClick={(row) => {
            setUnitId(row.unitId);
            setDate(row.date);
          }}
        />
      )}
    </div>
  );
}
