import { measurementTraits } from '../../../shared-types/trial/measurement';
import { obstacleOf, questionOf, SCALE_WORDS, type ResponseIndex } from '../../engine/findings';
import { editMeasurement } from '../../document/commands';
import { measurementLabel } from '../../document/queries/names';
import { hasSeveralRuns, runName } from '../../document/runs';
import { useDispatch, usePlanStore } from '../../store/context';
import { useFindings } from '../../store/findingsContext';
import { FieldRow, ScaleSelect, Select } from '../../ui';
import { FoldedPart } from './parts/FoldedPart';

const INDICES: readonly { value: ResponseIndex; label: string }[] = [
  { value: 'final', label: 'as measured' },
  { value: 'gain', label: 'gain since the start' },
  { value: 'relative-growth-rate', label: 'relative growth rate' },
];

const RUNS = { together: 'all runs together', shown: 'the run in hand' } as const;

/** Which measurement is looked at, taken how, and on which scale. */
export function Choice({ startsOpen = false }: { startsOpen?: boolean }) {
  const plan = usePlanStore((s) => s.plan);
  const choose = useFindings((s) => s.choose);
  const choice = useFindings((s) => s.choice);
  const dispatch = useDispatch();
  const trial = plan?.trial;
  const question = trial && questionOf(trial, choice.measurementId, choice.index ?? undefined);
  if (!trial || !question) return null;
  const { measurement, index } = question;
  const later = trial.measurements.filter((m) => m.timepoint !== 'start');
  const canBe = (value: ResponseIndex) => obstacleOf(trial, { ...question, index: value }) === null;
  const several = hasSeveralRuns(plan);
  const runs = choice.runs ?? 'together';
  const taken = INDICES.find(({ value }) => value === index)?.label ?? '';
  return (
    <FoldedPart
      title="What is looked at"
      said={[measurementLabel(measurement), taken, ...(several ? [RUNS[runs]] : [])].join(', ')}
      name="choice"
      startsOpen={startsOpen}
    >
      <FieldRow>
        <Select
          label="Measurement"
          value={measurement.id}
          options={later.map((m) => ({
            value: m.id,
            label: `${measurementLabel(m)}${m.id === trial.primaryOutcomeId ? ' (main result)' : ''}`,
          }))}
          onCommit={(measurementId) => choose({ ...choice, measurementId, index: null })}
        />
        <Select
          label="Taken"
          value={index}
          options={INDICES.filter(({ value }) => value === index || canBe(value))}
          onCommit={(value) => choose({ ...choice, measurementId: measurement.id, index: value })}
        />
        {several ? (
          <Select
            label="Runs"
            value={runs}
            options={[
              { value: 'together', label: RUNS.together },
              { value: 'shown', label: `${runName(plan)} by itself` },
            ]}
            onCommit={(value) => choose({ ...choice, runs: value })}
          />
        ) : null}
        {index === 'final' && measurement.id !== trial.primaryOutcomeId ? (
          <ScaleSelect
            value={measurement.scale ?? null}
            counts={measurementTraits[measurement.kind].whole}
            words={SCALE_WORDS}
            onCommit={(scale) =>
              dispatch(editMeasurement, { measurementId: measurement.id, patch: { scale } })
            }
          />
        ) : null}
      </FieldRow>
    </FoldedPart>
  );
}
