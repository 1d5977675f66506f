import { useCallback, useEffect, useEffectEvent, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { DataTable } from '../../../../shared-types/fit';
import { planAnswered, randomisationInputOf } from '../../../derive';
import {
  modelPOf,
  randomisationSentence,
  type FactorRole,
  type Findings,
  type RandomisationFound,
  type TableReading,
} from '../../../engine/findings';
import { randomisationFigure, type FigureSize } from '../../../print/report';
import { useFindings, useFindingsCurrent } from '../../../store/findingsContext';
import { useJob } from '../../../store/jobsContext';
import { FieldRow, JobButton, Select } from '../../../ui';
import { FigureView } from '../parts/FigureView';
import { FoldedPart } from '../parts/FoldedPart';

const RUNS = 9999;

interface Term {
  label: string;
  roles: readonly FactorRole[];
}

/** The layout drawn again and again by its own scheme. */
export function PlanRandomisation(props: {
  plan: Plan;
  findings: Findings;
  onFound: (found: RandomisationFound) => void;
}) {
  const { plan, findings } = props;
  const job = useJob('randomisationTest');
  const choice = useFindings((s) => s.choice);
  const input = randomisationInputOf(planAnswered(plan, choice));
  if (!input) return null;
  if (findings.runs) {
    return (
      <FoldedPart
        title="Could the shuffle alone do this?"
        said="asked of one run at a time"
        name="randomisation-test"
      >
        <p className="field-remark">
          Each run was drawn by itself. Choose a run under What is looked at to draw its layout
          anew.
        </p>
      </FoldedPart>
    );
  }
  return (
    <RandomisationSection
      {...props}
      job={job}
      how="The records stay with their pots while the layout is drawn anew by its own scheme and limits."
      onStart={({ roles }) =>
        job.start({
          data: input,
          asked: {
            measurementId: findings.question.measurement.id,
            index: findings.question.index,
            factorIds: roles.map((role) => role.factor.id),
            runs: RUNS,
            seed: plan.layout?.seed ?? plan.title,
          },
        })
      }
    />
  );
}

/** The labels of a table from elsewhere shuffled within its blocks and units. */
export function TableRandomisation(props: {
  table: DataTable;
  reading: TableReading;
  findings: Findings;
  onFound: (found: RandomisationFound) => void;
}) {
  const { table, reading } = props;
  const job = useJob('tableRandomisationTest');
  return (
    <RandomisationSection
      {...props}
      job={job}
      how="The values stay where they are while the labels are shuffled within the blocks and units that the columns name."
      onStart={({ roles }) =>
        job.start({
          table,
          reading,
          asked: {
            factors: roles.map((role) => role.factor.name),
            runs: RUNS,
            seed: reading.title,
          },
        })
      }
    />
  );
}

/** How often would chance alone give as much? */
function RandomisationSection(props: {
  findings: Findings;
  job: Pick<
    ReturnType<typeof useJob<'randomisationTest'>>,
    'result' | 'running' | 'cancel' | 'progress' | 'problem'
  >;
  how: string;
  onStart: (term: Term) => void;
  onFound: (found: RandomisationFound) => void;
}) {
  const { findings, job } = props;
  const current = useFindingsCurrent();
  const tellFound = useEffectEvent((found: RandomisationFound) => props.onFound(found));
  const assigned = findings.design.tested.filter((role) => role.factor.kind === 'randomised');
  const terms: Term[] = [
    ...assigned.map((role) => ({ label: role.factor.name, roles: [role] })),
    ...assigned.flatMap((a, i) =>
      assigned.slice(i + 1).map((b) => ({
        label: `${a.factor.name} × ${b.factor.name}`,
        roles: [a, b],
      })),
    ),
  ];
  const [asked, setAsked] = useState<string | null>(null);
  const term = terms.find((t) => t.label === asked) ?? terms[0];
  // A test of earlier findings says nothing of these.
  const [askedOf, setAskedOf] = useState<Findings | null>(null);
  const result = askedOf === findings ? job.result : null;
  useEffect(() => {
    if (result) tellFound(result);
  }, [result]);
  const draw = useCallback(
    (size: FigureSize) => (result ? randomisationFigure(result, size) : null),
    [result],
  );
  if (!term) return null;
  return (
    <FoldedPart
      title="Could the shuffle alone do this?"
      said={result ? 'tested' : 'not tried yet'}
      name="randomisation-test"
    >
      <p className="field-remark">{props.how}</p>
      <FieldRow>
        <Select
          label="Term"
          value={term.label}
          options={terms.map(({ label }) => ({ value: label, label }))}
          onCommit={setAsked}
        />
      </FieldRow>
      <JobButton
        job={job}
        label="Run the test"
        progressOf="Progress of the randomisation test"
        tone="primary"
        testId="randomisation-test-start"
        onStart={() => {
          setAskedOf(findings);
          props.onStart(term);
        }}
        disabled={!current}
      />
      {result ? (
        <>
          <p data-testid="randomisation-test-sentence">
            {randomisationSentence(result, findings.alpha, modelPOf(findings, result))}
          </p>
          {result.sample.length > 0 ? <FigureView draw={draw} /> : null}
        </>
      ) : null}
    </FoldedPart>
  );
}
