import type { Plan } from '../../../shared-types/plan';
import type { Pot } from '../../engine/geometry';
import { dateValues } from '../../document/commands';
import { dayTaken, measurementLabel, measurementsInOrder } from '../../document/queries';
import { sayValue } from '../../document/records';
import { useDispatch } from '../../store/context';
import { DayPicker } from './DayPicker';

/** The values of one pot in the order they were taken, each with its day, which can be put right. */
export function PotValues(props: { plan: Plan; pot: Pot; editable: boolean }) {
  const { plan, pot, editable } = props;
  const dispatch = useDispatch();
  const taken = measurementsInOrder(plan).flatMap((measurement) => {
    const value = plan.records.values[measurement.id]?.[pot.id];
    return value === undefined ? [] : [{ measurement, value }];
  });
  if (taken.length === 0) return null;
  return (
    <div className="records-fields" data-testid="pot-values">
      {taken.map(({ measurement, value }) => {
        const { id } = measurement;
        const said = `${measurementLabel(measurement)} ${sayValue(value, measurement)}`;
        const day = dayTaken(plan, measurement, pot.id);
        if (!editable) return <p key={id}>{said}</p>;
        return (
          <DayPicker
            key={id}
            label={`${said}, taken on`}
            testId={`pot-day-${id}`}
            value={day ?? ''}
            remark={
              plan.records.days?.[id]?.[pot.id] === undefined
                ? undefined
                : 'another day than the measurement'
            }
            onCommit={(to) =>
              dispatch(dateValues, {
                measurementId: id,
                potIds: [pot.id],
                day: to === '' ? null : to,
              })
            }
          />
        );
      })}
    </div>
  );
}
