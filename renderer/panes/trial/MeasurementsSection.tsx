import { type Trial } from '../../../shared-types/trial/trial';
import {
  measurementKinds,
  measurementKindWords,
  measurementTraits,
  type Measurement,
} from '../../../shared-types/trial/measurement';
import { useState } from 'react';
import { isPlantHeight } from '../../derive';
import { SCALE_WORDS } from '../../engine/findings';
import {
  addMeasurement,
  editMeasurement,
  editTrial,
  removeMeasurement,
} from '../../document/commands';
import { measurementLabel } from '../../document/queries/names';
import { ofRun } from '../../document/runs';
import { useDispatch, usePlanStore } from '../../store/context';
import { MeasurementGrid } from './MeasurementGrid';
import {
  Button,
  Checkbox,
  DateField,
  FieldRow,
  Fold,
  NumberField,
  ScaleSelect,
  Section,
  Select,
  TextField,
} from '../../ui';
import { sayDay } from '../../words';

const timepointWords = {
  start: 'at the start',
  interim: 'in between',
  harvest: 'at harvest',
} as const;

/** What is weighed or counted, when, and within which bounds; which of them answers the question. */
export function MeasurementsSection({ trial }: { trial: Trial }) {
  const dispatch = useDispatch();
  const later = trial.measurements.filter((m) => m.timepoint !== 'start');
  return (
    <Section
      title="What is measured"
      testId="measurements"
      actions={
        <Button
          onClick={() =>
            dispatch(addMeasurement, {
              name: `measurement ${trial.measurements.length + 1}`,
              timepoint: 'harvest',
            })
          }
        >
          Add measurement
        </Button>
      }
    >
      <MeasurementGrid trial={trial} />
      {trial.measurements.map((m) => (
        <MeasurementCard key={m.id} m={m} trial={trial} />
      ))}
      {later.length > 0 ? (
        <>
          <FieldRow>
            <Select
              label="Main result"
              value={trial.primaryOutcomeId ?? ''}
              options={[
                { value: '', label: 'not fixed yet' },
                ...later.map((m) => ({ value: m.id, label: measurementLabel(m) })),
              ]}
              onCommit={(id) =>
                dispatch(editTrial, { patch: { primaryOutcomeId: id === '' ? null : id } })
              }
            />
            <Select
              label="taken as"
              value={trial.primaryIndex}
              options={[
                { value: 'final', label: 'the value at harvest' },
                { value: 'gain', label: 'gain since the start' },
                { value: 'relative-growth-rate', label: 'relative growth rate' },
              ]}
              onCommit={(primaryIndex) => dispatch(editTrial, { patch: { primaryIndex } })}
            />
          </FieldRow>
          <Checkbox
            label="Allow for the plant’s value at the start"
            checked={trial.startCovariate}
            onCommit={(startCovariate) => dispatch(editTrial, { patch: { startCovariate } })}
          />
        </>
      ) : null}
    </Section>
  );
}

function MeasurementCard({ m, trial }: { m: Measurement; trial: Trial }) {
  const answers = m.id === trial.primaryOutcomeId;
  // Growth is analysed as it is: a scale is for values as they were measured.
  const scaled = m.timepoint !== 'start' && !(answers && trial.primaryIndex !== 'final');
  const dispatch = useDispatch();
  // A new measurement is there to be filled in.
  const [open, setOpen] = useState(/^measurement \d+$/.test(m.name));
  return (
    <Fold
      look="card"
      title={
        <>
          <strong>{m.name}</strong>
          {m.unit ? `, ${m.unit}` : ''}
        </>
      }
      said={`${timepointWords[m.timepoint]}${m.date ? ` on ${sayDay(m.date)}` : ''}${answers ? ', answers the question' : ''}`}
      open={open}
      onToggle={setOpen}
    >
      <fieldset>
        <legend className="visually-hidden">Measurement {measurementLabel(m)}</legend>
        <MeasurementFields m={m} scaled={scaled} />
        <div className="section-actions">
          <Button tone="quiet" onClick={() => dispatch(removeMeasurement, { measurementId: m.id })}>
            Remove measurement
          </Button>
        </div>
      </fieldset>
    </Fold>
  );
}

/** `scaled`: its values may be analysed on a scale of their own. */
function MeasurementFields({ m, scaled }: { m: Measurement; scaled: boolean }) {
  const dispatch = useDispatch();
  const plan = usePlanStore((s) => s.plan);
  const dateLabel = plan ? ofRun(plan, 'Date') : 'Date';
  const patch = (change: Parameters<typeof editMeasurement.run>[1]['patch']) =>
    dispatch(editMeasurement, { measurementId: m.id, patch: change });
  return (
    <>
      <FieldRow>
        <TextField label="Name" value={m.name} onCommit={(name) => patch({ name })} />
        <Select
          label="When"
          value={m.timepoint}
          options={[
            { value: 'start', label: 'at the start' },
            { value: 'interim', label: 'in between' },
            { value: 'harvest', label: 'at harvest' },
          ]}
          onCommit={(timepoint) => patch({ timepoint })}
        />
        <Select
          label="Kind"
          value={m.kind}
          options={measurementKinds.map((value) => ({
            value,
            label: measurementKindWords[value],
          }))}
          onCommit={(kind) => patch({ kind })}
        />
      </FieldRow>
      <FieldRow>
        <TextField
          label="Unit"
          value={m.unit}
          mayBeEmpty
          longest={20}
          onCommit={(unit) => patch({ unit })}
        />
        <DateField label={dateLabel} value={m.date} onCommit={(date) => patch({ date })} />
        <NumberField
          label="Decimals"
          whole
          lowest={0}
          highest={4}
          value={m.decimals}
          onCommit={(decimals) => patch({ decimals })}
        />
        <NumberField
          label="Lowest likely"
          value={m.lowest}
          onCommit={(lowest) => patch({ lowest })}
        />
        <NumberField
          label="Highest likely"
          value={m.highest}
          onCommit={(highest) => patch({ highest })}
        />
        {scaled ? (
          <ScaleSelect
            value={m.scale ?? null}
            counts={measurementTraits[m.kind].whole}
            words={SCALE_WORDS}
            testId={`scale-${m.id}`}
            onCommit={(scale) => patch({ scale })}
          />
        ) : null}
      </FieldRow>
      {measurementTraits[m.kind].long ? (
        <Checkbox
          label="Height of plants above their pots: the canopy over time follows it"
          checked={isPlantHeight(m)}
          testId={`plant-height-${m.id}`}
          onCommit={(plantHeight) => patch({ plantHeight })}
        />
      ) : null}
    </>
  );
}
