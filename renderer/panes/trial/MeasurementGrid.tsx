import { useState } from 'react';
import { type Trial } from '../../../shared-types/trial/trial';
import { measurementKindWords } from '../../../shared-types/trial/measurement';
import { addMeasurement, removeMeasurement } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { DateField } from '../../ui';
import { measurementGrid, type MeasuredRow, type MeasuredTime } from './measuredTimes';
import { sayDay } from '../../words';

/** What is measured, and when: a tick for each. */
export function MeasurementGrid({ trial }: { trial: Trial }) {
  const dispatch = useDispatch();
  const [days, setDays] = useState<readonly string[]>([]);
  const { times, rows } = measurementGrid(trial, days);
  const toggle = (row: MeasuredRow, k: number, { timepoint, date }: MeasuredTime) => {
    const measurement = row.at[k];
    if (measurement) dispatch(removeMeasurement, { measurementId: measurement.id });
    else {
      const { name, kind, unit } = row;
      dispatch(addMeasurement, { name, timepoint, measurement: { kind, unit, date } });
    }
  };
  return (
    <div className="measurement-grid">
      <div className="table-frame" tabIndex={0} role="group" aria-label="What is measured when">
        <table className="table" data-testid="measurement-grid">
          <thead>
            <tr>
              <th scope="col">Of each plant</th>
              {times.map((time) => (
                <th key={sayTime(time)} scope="col">
                  {sayTime(time)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={`${row.kind} ${row.name}`}>
                <th scope="row">
                  {row.name}
                  <span className="table-unit">
                    {row.kind === row.name ? row.unit : measurementKindWords[row.kind]}
                  </span>
                </th>
                {times.map((time, k) => (
                  <td key={sayTime(time)}>
                    <input
                      type="checkbox"
                      aria-label={`${row.name}, ${sayTime(time)}`}
                      checked={row.at[k] !== null}
                      onChange={() => toggle(row, k, time)}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <DateField
        label="Also on a day between"
        value={null}
        onCommit={(day) => day !== null && setDays([...new Set([...days, day])])}
      />
    </div>
  );
}

function sayTime({ timepoint, date }: MeasuredTime): string {
  return timepoint === 'interim' ? (date === null ? 'between' : sayDay(date)) : timepoint;
}
