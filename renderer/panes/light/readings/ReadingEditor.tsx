import type { LightReading } from '../../../../shared-types/light';
import type { Plan } from '../../../../shared-types/plan';
import { editReading, removeReadings } from '../../../document/commands';
import { estimatesAt } from '../../../derive';
import { useDispatch } from '../../../store/context';
import { Button, DateField, FieldRow, LengthField, NumberField, TextField } from '../../../ui';
import { LuxFields } from './LuxFields';

/** Everything that can be put right about one reading; each field is taken as it is left. */
export function ReadingEditor({ plan, reading }: { plan: Plan; reading: LightReading }) {
  const dispatch = useDispatch();
  const { lengths } = plan.display;
  const shelf = plan.rack.shelves.find((s) => s.id === reading.shelfId);
  const edit = (patch: Partial<Omit<LightReading, 'id'>>) =>
    dispatch(editReading, { readingId: reading.id, patch });
  // A new figure or place was taken of the lamps as they hang now.
  const retake = (patch: Partial<Pick<LightReading, 'value' | 'xMm' | 'yMm' | 'zMm'>>) => {
    const [estimateUmol] = estimatesAt(plan, [{ ...reading, ...patch }]);
    edit(estimateUmol === undefined ? patch : { ...patch, estimateUmol });
  };
  const lux = reading.unit === 'lux';
  return (
    <div className="light-reading-editor" data-testid="reading-editor">
      <FieldRow>
        <NumberField
          label="Reads"
          unit={lux ? 'lux' : 'µmol m⁻² s⁻¹'}
          lowest={0}
          highest={1_000_000}
          value={reading.value}
          testId="reading-edit-value"
          onCommit={(value) => retake({ value })}
        />
        <DateField
          label="Taken on"
          value={reading.date}
          testId="reading-edit-date"
          onCommit={(date) => edit({ date })}
        />
      </FieldRow>
      {lux ? <LuxFields conversion={reading} onCommit={edit} /> : null}
      <FieldRow>
        <LengthField
          label="From the left"
          system={lengths}
          lowestMm={0}
          highestMm={shelf?.widthMm}
          valueMm={reading.xMm}
          testId="reading-edit-x"
          onCommit={(xMm) => retake({ xMm })}
        />
        <LengthField
          label="From the front"
          system={lengths}
          lowestMm={0}
          highestMm={shelf?.depthMm}
          valueMm={reading.yMm}
          onCommit={(yMm) => retake({ yMm })}
        />
        <LengthField
          label="Above the shelf"
          system={lengths}
          lowestMm={0}
          highestMm={5000}
          valueMm={reading.zMm}
          testId="reading-edit-z"
          onCommit={(zMm) => retake({ zMm })}
        />
      </FieldRow>
      <TextField
        label="Note"
        mayBeEmpty
        longest={200}
        value={reading.note}
        onCommit={(note) => edit({ note })}
      />
      <div className="section-actions">
        <Button
          tone="danger"
          data-testid="reading-remove"
          onClick={() => dispatch(removeReadings, { readingIds: [reading.id] })}
        >
          Remove this reading
        </Button>
      </div>
    </div>
  );
}
