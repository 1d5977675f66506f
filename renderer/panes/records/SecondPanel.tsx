import { settleValue } from '../../document/commands';
import { measurementLabel, type Disagreement } from '../../document/queries';
import { useDispatch } from '../../store/context';
import { Button, Segmented, Table } from '../../ui';
import type { Cell } from './RecordsGrid';
import type { EntryBy } from './useEntry';

const LISTED = 200;

/** Who enters, and where the two entries differ. */
export function SecondPanel(props: {
  by: EntryBy;
  differing: readonly Disagreement[];
  onBy: (by: EntryBy) => void;
  onGo: (cell: Cell) => void;
}) {
  const { differing, by } = props;
  const dispatch = useDispatch();
  const settle = ({ pot, measurement }: Disagreement, value: number) =>
    dispatch(settleValue, { measurementId: measurement.id, potId: pot.id, value });
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
          ? 'The grid holds the second entry now; the first stays hidden until both are compared.'
          : 'Let another person enter the same sheet a second time, without seeing the first entry.'}
      </p>
      {by === 'second' ? null : differing.length === 0 ? (
        <p className="field-remark">The two entries differ nowhere.</p>
      ) : (
        <Table
          caption={`The entries differ in ${differing.length}${differing.length > LISTED ? ` (first ${LISTED} shown)` : ''}`}
          showCaption
          testId="disagreements"
          rows={differing.slice(0, LISTED)}
          rowKey={({ pot, measurement }) => `${measurement.id} ${pot.id}`}
          columns={[
            {
              key: 'pot',
              head: 'Pot',
              cell: (row) => (
                <Button
                  tone="quiet"
                  onClick={() =>
                    props.onGo({ potId: row.pot.id, measurementId: row.measurement.id })
                  }
                >
                  {row.pot.code}
                </Button>
              ),
            },
            { key: 'what', head: 'Measurement', cell: (row) => measurementLabel(row.measurement) },
            {
              key: 'first',
              head: 'First is right',
              cell: (row) => (
                <Button onClick={() => settle(row, row.first)}>
                  {row.first} {row.measurement.unit}
                </Button>
              ),
            },
            {
              key: 'second',
              head: 'Second is right',
              cell: (row) => (
                <Button onClick={() => settle(row, row.second)}>
                  {row.second} {row.measurement.unit}
                </Button>
              ),
            },
          ]}
        />
      )}
    </div>
  );
}
