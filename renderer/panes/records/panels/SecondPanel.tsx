import { enterValues, settleMark, settleValue } from '../../../document/commands';
import type { EntryBy } from '../../../store';
import { measurementLabel, type Disagreement } from '../../../document/queries';
import { sayValue } from '../../../document/records';
import { useDispatch } from '../../../store/context';
import { Button, Segmented, Table } from '../../../ui';
import type { CellPlace } from '../grid/rowView';

const LISTED = 200;

/** Who enters, and where the two entries differ. */
export function SecondPanel(props: {
  by: EntryBy;
  differing: readonly Disagreement[];
  /** The column to go to for what is about the plant; null: there is none. */
  measurementId: string | null;
  onBy: (by: EntryBy) => void;
  onGo: (cell: CellPlace) => void;
}) {
  const { differing, by } = props;
  const dispatch = useDispatch();
  const settle = (row: Disagreement, right: EntryBy) => {
    const potId = row.pot.id;
    if (row.kind === 'state') {
      dispatch(settleMark, { potId, mark: right === 'first' ? row.first : row.second });
      return;
    }
    const measurementId = row.measurement.id;
    const value = right === 'first' ? row.first : row.second;
    if (typeof value === 'number') dispatch(settleValue, { measurementId, potId, value });
    // The mark of the first entry stands: what was weighed is taken out of the second.
    else dispatch(enterValues, { measurementId, entries: [{ potId, value: null }], second: true });
  };
  return (
    <div className="records-form" data-testid="second-panel">
      <Segmented
        label="Who enters"
        testId="entry-by"
        value={by}
        options={[
          { value: 'first', label: 'First entry' },
          { value: 'second', label: 'Second entry' },
        ]}
        onChoose={props.onBy}
      />
      <p className="field-remark">
        {by === 'second'
          ? 'The grid and the rack show the second entry now. The first, its marks and its notices stay hidden.'
          : 'Let another person enter the same sheet a second time, without seeing the first entry.'}
      </p>
      {by === 'second' ? null : differing.length === 0 ? (
        <p className="field-remark">Both entries agree.</p>
      ) : (
        <Table
          caption={`The entries differ in ${differing.length}${differing.length > LISTED ? ` (first ${LISTED} shown)` : ''}`}
          showCaption
          testId="disagreements"
          rows={differing.slice(0, LISTED)}
          rowKey={(row) => `${row.kind === 'value' ? row.measurement.id : ''} ${row.pot.id}`}
          columns={[
            {
              key: 'pot',
              head: 'Pot',
              cell: (row) => (
                <Button
                  tone="quiet"
                  onClick={() => {
                    const column = row.kind === 'value' ? row.measurement.id : props.measurementId;
                    if (column !== null) props.onGo({ potId: row.pot.id, measurementId: column });
                  }}
                >
                  {row.pot.code}
                </Button>
              ),
            },
            {
              key: 'what',
              head: 'What',
              cell: (row) =>
                row.kind === 'value' ? measurementLabel(row.measurement) : 'state of the plant',
            },
            {
              key: 'first',
              head: 'First is right',
              cell: (row) => (
                <Button onClick={() => settle(row, 'first')}>{entered(row, 'first')}</Button>
              ),
            },
            {
              key: 'second',
              head: 'Second is right',
              cell: (row) => (
                <Button onClick={() => settle(row, 'second')}>{entered(row, 'second')}</Button>
              ),
            },
          ]}
        />
      )}
    </div>
  );
}

/** What one person has entered, in words. */
function entered(row: Disagreement, by: EntryBy): string {
  if (row.kind === 'state') return (by === 'first' ? row.first : row.second)?.mark ?? 'alive';
  const value = by === 'first' ? row.first : row.second;
  return typeof value === 'number' ? sayValue(value, row.measurement) : value;
}
