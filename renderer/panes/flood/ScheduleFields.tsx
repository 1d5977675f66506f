import type { FloodWindow } from '../../../shared-types/flood';
import { Button, FieldRow, NumberField } from '../../ui';

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
          <FieldRow key={i}>
            <NumberField
              label="From"
              unit="h"
              value={window.startHour}
              lowest={0}
              highest={24}
              decimals={2}
              onCommit={(startHour) => set({ startHour })}
            />
            <NumberField
              label="until"
              unit="h"
              value={window.endHour}
              lowest={0}
              highest={24}
              decimals={2}
              onCommit={(endHour) => set({ endHour })}
            />
            <NumberField
              label="every"
              unit="min"
              value={window.everyMinutes}
              lowest={1}
              highest={1440}
              testId={`every-${i}`}
              onCommit={(everyMinutes) => set({ everyMinutes })}
            />
            <NumberField
              label="pump runs"
              unit="min"
              value={window.onMinutes}
              lowest={0.1}
              highest={1440}
              testId={`on-${i}`}
              onCommit={(onMinutes) => set({ onMinutes })}
            />
            <Button onClick={() => onChange(schedule.filter((_, j) => j !== i))}>Remove</Button>
          </FieldRow>
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
