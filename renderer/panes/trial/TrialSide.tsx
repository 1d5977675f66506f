import { editTrial, setTrial } from '../../document/commands';
import { ofRun } from '../../document/runs';
import { useDispatch, usePlanStore } from '../../store/context';
import { Button, DateField, EmptyState, FieldRow, Section, TextArea } from '../../ui';
import { BlocksSection } from './BlocksSection';
import { FactorsSection } from './FactorsSection';
import { JudgedSection } from './JudgedSection';
import { MeasurementsSection } from './MeasurementsSection';
import { PowerSection } from './power/PowerSection';
import { RehearsalSection } from './power/RehearsalSection';
import './trial.css';

export function TrialSide() {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  if (!plan) return null;
  const trial = plan.trial;
  if (!trial) {
    return (
      <EmptyState
        title="No trial yet"
        actions={
          <Button tone="primary" onClick={() => dispatch(setTrial, {})}>
            Start a trial
          </Button>
        }
      >
        A trial says what is compared, what gets a treatment of its own, what is measured, and how
        pots are grouped into blocks that are alike.
      </EmptyState>
    );
  }
  return (
    <>
      {trial.factors.length > 0 ? <JudgedSection plan={plan} /> : null}
      <Section title="The question">
        <TextArea
          label="What should this trial find out?"
          rows={2}
          value={trial.question}
          onCommit={(question) => dispatch(editTrial, { patch: { question } })}
        />
        <FieldRow>
          <DateField
            label={ofRun(plan, 'Start')}
            value={trial.startDate}
            testId="trial-start"
            onCommit={(startDate) => dispatch(editTrial, { patch: { startDate } })}
          />
          <DateField
            label={ofRun(plan, 'Harvest')}
            value={trial.harvestDate}
            onCommit={(harvestDate) => dispatch(editTrial, { patch: { harvestDate } })}
          />
        </FieldRow>
      </Section>
      <FactorsSection factors={trial.factors} />
      <PowerSection trial={trial} />
      <BlocksSection trial={trial} />
      <MeasurementsSection trial={trial} />
      <RehearsalSection trial={trial} />
    </>
  );
}
