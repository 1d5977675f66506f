import { measurementTraits } from '../../../shared-types/trial';
import './findings.css';
import { useState, type ReactNode } from 'react';
import {
  obstacleOf,
  questionOf,
  SCALE_WORDS,
  sentenceGroups,
  unbroken,
  type Findings,
  type RandomisationFound,
  type ResponseIndex,
} from '../../engine/findings';
import { editMeasurement } from '../../document/commands';
import { measurementLabel } from '../../document/queries/names';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { useFindings, useFindingsCurrent, useFindingsOfPlan } from '../../store/findingsContext';
import { useHostOffer } from '../../store/hostContext';
import { Button, EmptyState, FieldRow, Fold, ScaleSelect, Section, Select } from '../../ui';
import { AnalysisSection } from './AnalysisSection';
import { AnswerCards } from './AnswerCards';
import { ChecksSection } from './ChecksSection';
import { ComparisonsSection } from './ComparisonsSection';
import { GrowthSection } from './GrowthSection';
import { PlantsPicture } from './PlantsPicture';
import { PositionSection } from './PositionSection';
import { PlanRandomisation, TableRandomisation } from './RandomisationSection';
import { RuleSection } from './RuleSection';
import { SaveBar } from './SaveBar';
import { TableDialog } from './TableDialog';
import { reasonOf } from '../../words';

/** Where to go first when there is nothing to show. */
const FIRST = { trial: 'Go to the trial', records: 'Go to the records' } as const;

/** What differed, by how much, how sure, and whether position did it. */
export function FindingsSide() {
  useFindingsOfPlan();
  const plan = usePlanStore((s) => s.plan);
  const outcome = useFindings((s) => s.outcome);
  const current = useFindingsCurrent();
  const fromTable = useFindings((s) => s.fromTable);
  const showTable = useFindings((s) => s.showTable);
  const goTo = useSession((s) => s.goTo);
  // Randomisation tests belong to the findings that they were made for, and go into their report.
  const [kept, setKept] = useState<{ of: Findings; found: RandomisationFound[] } | null>(null);
  if (!plan) return null;
  const randomisationTestsOf = (findings: Findings) => (kept?.of === findings ? kept.found : []);
  const keep = (findings: Findings) => (found: RandomisationFound) => {
    const others = randomisationTestsOf(findings).filter((one) => one.term !== found.term);
    setKept({ of: findings, found: [...others, found] });
  };
  if (fromTable) {
    const { findings } = fromTable;
    const title = fromTable.name.replace(/\.[^.]*$/, '');
    return (
      <div data-testid="findings-of-table">
        <div className="findings-bar">
          <strong>From {fromTable.name}</strong>
          <Button onClick={() => showTable(null)}>Back to the plan’s findings</Button>
        </div>
        <SaveBar
          title={title}
          plan={null}
          findings={findings}
          randomisationTests={randomisationTestsOf(findings)}
        >
          <OpenTable />
        </SaveBar>
        <Body findings={findings} editable={false}>
          <TableRandomisation
            table={fromTable.table}
            reading={fromTable.reading}
            findings={findings}
            onFound={keep(findings)}
          />
        </Body>
      </div>
    );
  }
  // That there is nothing to tell may no longer be so; of earlier findings the figures are kept.
  if (!outcome || (!outcome.ok && !current)) {
    return <EmptyState title="Computing the findings…">This takes a moment.</EmptyState>;
  }
  if (!outcome.ok) {
    const { obstacle } = outcome;
    const stage = obstacle?.stage ?? (plan.trial ? 'records' : 'trial');
    return (
      <>
        <EmptyState
          title={obstacle ? 'This question cannot be answered' : 'No findings yet'}
          actions={
            <>
              <Button tone="primary" onClick={() => goTo(stage)}>
                {FIRST[stage]}
              </Button>
              <OpenTable />
            </>
          }
        >
          <span data-testid="findings-missing">
            {outcome.missing} {obstacle?.remedy}
          </span>
        </EmptyState>
        {outcome.missing.startsWith('No value') ? null : <Choice />}
        {plan.trial ? <RuleSection plan={plan} trial={plan.trial} /> : null}
      </>
    );
  }
  const { findings } = outcome;
  return (
    <div aria-busy={!current} data-testid="findings">
      <SaveBar
        title={plan.title}
        plan={plan}
        findings={findings}
        randomisationTests={randomisationTestsOf(findings)}
      >
        <OpenTable />
      </SaveBar>
      <Body findings={findings} editable>
        <PlanRandomisation plan={plan} findings={findings} onFound={keep(findings)} />
        <GrowthSection plan={plan} findings={findings} />
      </Body>
      <Choice />
      {plan.trial ? <RuleSection plan={plan} trial={plan.trial} /> : null}
    </div>
  );
}

function Body(props: { findings: Findings; editable: boolean; children?: ReactNode }) {
  const { findings, editable } = props;
  return (
    <>
      <div data-testid="findings-words">
        <AnswerCards findings={findings} />
        <PlantsPicture findings={findings} />
        <Section title="In words">
          <Fold title="Every sentence, with its figures">
            <div className="findings-words">
              {sentenceGroups(findings).map((group) => (
                <ul key={group[0]}>
                  {group.map((text) => (
                    <li key={text}>{unbroken(text)}</li>
                  ))}
                </ul>
              ))}
            </div>
          </Fold>
        </Section>
      </div>
      <PositionSection findings={findings} />
      <AnalysisSection findings={findings} />
      <ComparisonsSection findings={findings} editable={editable} />
      <ChecksSection findings={findings} editable={editable} />
      {props.children}
    </>
  );
}

/** A trial that was not planned here, from its table. */
function OpenTable() {
  const host = useHostOffer();
  const [opened, setOpened] = useState<{ name: string; text: string } | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  return (
    <>
      <Button
        tone="quiet"
        data-testid="open-table"
        onClick={() => {
          host.open('table').then(
            (found) => {
              setProblem(null);
              if (found) setOpened({ name: found.ref.name, text: found.text });
            },
            (error: unknown) => setProblem(reasonOf(error)),
          );
        }}
      >
        Findings of another table…
      </Button>
      {problem ? <span className="field-problem">{problem}</span> : null}
      {opened ? <TableDialog {...opened} onClose={() => setOpened(null)} /> : null}
    </>
  );
}

/** Which measurement is looked at, taken how, and on which scale. */
function Choice() {
  const plan = usePlanStore((s) => s.plan);
  const choose = useFindings((s) => s.choose);
  const choice = useFindings((s) => s.choice);
  const dispatch = useDispatch();
  const trial = plan?.trial;
  const question = trial && questionOf(trial, choice.measurementId, choice.index ?? undefined);
  if (!trial || !question) return null;
  const later = trial.measurements.filter((m) => m.timepoint !== 'start');
  const indices: { value: ResponseIndex; label: string }[] = [
    { value: 'final', label: 'as measured' },
    { value: 'gain', label: 'gain since the start' },
    { value: 'relative-growth-rate', label: 'relative growth rate' },
  ];
  const canBe = (index: ResponseIndex) => obstacleOf(trial, { ...question, index }) === null;
  return (
    <Section title="What is looked at">
      <FieldRow>
        <Select
          label="Measurement"
          value={question.measurement.id}
          options={later.map((m) => ({
            value: m.id,
            label: `${measurementLabel(m)}${m.id === trial.primaryOutcomeId ? ' (main result)' : ''}`,
          }))}
          onCommit={(measurementId) => choose({ measurementId, index: null })}
        />
        <Select
          label="Taken"
          value={question.index}
          options={indices.filter(({ value }) => value === question.index || canBe(value))}
          onCommit={(index) => choose({ measurementId: question.measurement.id, index })}
        />
        {question.index === 'final' && question.measurement.id !== trial.primaryOutcomeId ? (
          <ScaleSelect
            value={question.measurement.scale ?? null}
            counts={measurementTraits[question.measurement.kind].whole}
            words={SCALE_WORDS}
            onCommit={(scale) =>
              dispatch(editMeasurement, {
                measurementId: question.measurement.id,
                patch: { scale },
              })
            }
          />
        ) : null}
      </FieldRow>
    </Section>
  );
}
