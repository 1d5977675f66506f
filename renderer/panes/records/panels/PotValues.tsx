import type { Plan } from '../../../../shared-types/plan';
import type { Measurement } from '../../../../shared-types/trial/measurement';
import type { Pot } from '../../../engine/geometry';
import { dateValues } from '../../../document/commands';
import {
  dayTaken,
  entriesOfValue,
  measurementLabel,
  measurementsInOrder,
  sayAct,
  type EnteredValue,
} from '../../../document/queries';
import { sayValue } from '../../../document/records';
import { useDispatch } from '../../../store/context';
import { DayPicker } from '../DayPicker';

/** The values of one pot in the order they were taken, each with its day, which can be put right. */
export function PotValues(props: { plan: Plan; pot: Pot; editable: boolean }) {
  const { plan, pot, editable } = props;
  const dispatch = useDispatch();
  const taken = measurementsInOrder(plan).flatMap((measurement) => {
    const value = plan.records.values[measurement.id]?.[pot.id];
    const entries = entriesOfValue(plan.records, measurement.id, pot.id);
    return entries.length === 0 ? [] : [{ measurement, value, entries }];
  });
  if (taken.length === 0) return null;
  return (
    <div className="records-fields" data-testid="pot-values">
      {taken.map(({ measurement, value, entries }) => {
        const { id } = measurement;
        const label = measurementLabel(measurement);
        const said = value === undefined ? label : `${label} ${sayValue(value, measurement)}`;
        const history = <ValueHistory {...{ entries, measurement }} />;
        const day = dayTaken(plan, measurement, pot.id);
        if (!editable || value === undefined) {
          return (
            <div key={id}>
              <p>{said}</p>
              {history}
            </div>
          );
        }
        return (
          <div key={id}>
            <DayPicker
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
            {history}
          </div>
        );
      })}
    </div>
  );
}

/** What was entered, when and by whom, the latest first. */
function ValueHistory(props: { entries: readonly EnteredValue[]; measurement: Measurement }) {
  const { entries, measurement } = props;
  const known = entries.filter(({ act }) => act !== null);
  if (known.length === 0) return null;
  return (
    <ol className="value-history" aria-label={`History of ${measurementLabel(measurement)}`}>
      {[...entries].reverse().map(({ value, act }, i) => (
        <li key={entries.length - i}>
          {value === null ? 'cleared' : sayValue(value, measurement)}
          {act ? `, ${sayAct(act)}` : ', entered before times were kept'}
        </li>
      ))}
    </ol>
  );
}
