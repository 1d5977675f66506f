import type { FloodWindow } from '../../../shared-types/flood';
import { Button, FieldList, type FieldOf } from '../../ui';

/** Windows of the day, so that day and night can differ. */
export function ScheduleFields(props: {
  schedule: readonly FloodWindow[];
  onChange: (schedule: FloodWindow[]) => void;
}) {
  const { schedule, onChange } = props;
  return (
    <div className="flood-schedule">
      <strong>Schedule</strong>
      {schedule.map((window, i) => {
        const set = (patch: Partial<FloodWindow>) =>
          onChange(schedule.map((w, j) => (j === i ? { ...w, ...patch } : w)));
        return (
          <FieldList key={i} of={window} fields={hours(i)} system="metric" onChange={set}>
            <Button onClick={() => onChange(schedule.filter((_, j) => j !== i))}>Remove</Button>
          </FieldList>
        );
      })}
      <Button
        onClick={() =>
          onChange([...schedule, { startHour: 22, endHour: 6, everyMinutes: 480, onMinutes: 15 }])
        }
      >
        Add hours
      </Button>
    </div>
  );
}

function hours(i: number): readonly FieldOf<FloodWindow>[] {
  const day = { unit: 'h', lowest: 0, highest: 24, decimals: 2 } as const;
  const span = { unit: 'min', highest: 1440 } as const;
  return [
    { as: 'number', key: 'startHour', label: 'From', ...day },
    { as: 'number', key: 'endHour', label: 'until', ...day },
    { as: 'number', key: 'everyMinutes', label: 'every', ...span, lowest: 1, testId: `every-${i}` },
    { as: 'number', key: 'onMinutes', label: 'pump runs', ...span, lowest: 0.1, testId: `on-${i}` },
  ];
}
