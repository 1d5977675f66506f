import { paragraph, type Findings, type ResponseIndex } from '../../derive';
import { measurementLabel } from '../../document/queries/names';
import { usePlanStore, useSession } from '../../store/context';
import { useFindings, useFindingsOfPlan } from '../../store/findingsContext';
import { Button, EmptyState, FieldRow, Section, Select } from '../../ui';
import { AnalysisTables } from './AnalysisTables';
import { GrowthTable } from './GrowthTable';
import { PositionTable } from './PositionTable';

/** What differed, by how much, how sure, and whether position did it. */
export function FindingsSide() {
  useFindingsOfPlan();
  const plan = usePlanStore((s) => s.plan);
  const outcome = useFindings((s) => s.outcome);
  const running = useFindings((s) => s.running);
  const goTo = useSession((s) => s.goTo);
  if (!plan) return null;
  if (!outcome) {
    return <EmptyState title="Computing the findings…">This takes a moment.</EmptyState>;
  }
  if (!outcome.ok) {
    return (
      <EmptyState
        title="No findings yet"
        actions={
          <Button tone="primary" onClick={() => goTo(plan.trial ? 'records' : 'trial')}>
            {plan.trial ? 'Record the harvest' : 'Plan the trial'}
          </Button>
        }
      >
        {outcome.missing}
      </EmptyState>
    );
  }
  const { findings } = outcome;
  return (
    <div aria-busy={running} data-testid="findings">
      <Choice findings={findings} />
      <Section title="In words">
        <p className="findings-words" data-testid="findings-words">
          {paragraph(findings)}
        </p>
      </Section>
      <PositionTable findings={findings} />
      <AnalysisTables findings={findings} />
      <GrowthTable plan={plan} measurementId={findings.question.measurement.id} />
    </div>
  );
}

function Choice({ findings }: { findings: Findings }) {
  const plan = usePlanStore((s) => s.plan);
  const choose = useFindings((s) => s.choose);
  const trial = plan?.trial;
  if (!trial) return null;
  const { question } = findings;
  const later = trial.measurements.filter((m) => m.moment !== 'start');
  const indices: { value: ResponseIndex; label: string }[] = [
    { value: 'final', label: 'as measured' },
    ...(question.start ? [{ value: 'gain' as const, label: 'gain since the start' }] : []),
    ...(question.start && question.days
      ? [{ value: 'relative-growth-rate' as const, label: 'relative growth rate' }]
      : []),
  ];
  return (
    <Section title="What is looked at">
      <FieldRow>
        <Select
          label="Measurement"
          value={question.measurement.id}
          options={later.map((m) => ({
            value: m.id,
            label: `${measurementLabel(m)}${m.id === trial.primaryMeasurementId ? ' (answers the question)' : ''}`,
          }))}
          onCommit={(measurementId) => choose({ measurementId, index: question.index })}
        />
        <Select
          label="Taken"
          value={question.index}
          options={indices}
          onCommit={(index) => choose({ measurementId: question.measurement.id, index })}
        />
      </FieldRow>
    </Section>
  );
}
