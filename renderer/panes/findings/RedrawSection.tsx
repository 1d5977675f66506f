import { useCallback, useEffect, useEffectEvent, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { DataTable } from '../../../shared-types/fit';
import { redrawInputOf } from '../../derive';
import {
  modelPOf,
  redrawSentence,
  type FactorRole,
  type Findings,
  type RedrawFound,
  type TableReading,
} from '../../engine/findings';
import { redrawFigure, type FigureSize } from '../../print/report';
import { useJob } from '../../store/jobsContext';
import { FieldRow, JobButton, Section, Select } from '../../ui';
import { FigureView } from './FigureView';

const RUNS = 9999;

interface Term {
  label: string;
  roles: readonly FactorRole[];
}

/** The layout drawn again and again by its own scheme. */
export function PlanRedraw(props: {
  plan: Plan;
  findings: Findings;
  onFound: (found: RedrawFound) => void;
}) {
  const { plan, findings } = props;
  const job = useJob('redraw');
  const input = redrawInputOf(plan);
  if (!input) return null;
  return (
    <RedrawSection
      {...props}
      job={job}
      how="The records stay with their pots while the layout is drawn anew by its own scheme and limits. This rests on the draw alone, not on a bell curve."
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
export function TableRedraw(props: {
  table: DataTable;
  reading: TableReading;
  findings: Findings;
  onFound: (found: RedrawFound) => void;
}) {
  const { table, reading } = props;
  const job = useJob('redrawTable');
  return (
    <RedrawSection
      {...props}
      job={job}
      how="The values stay where they are while the labels are shuffled within the blocks and units that the columns name. This rests on the shuffle alone, not on a bell curve."
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
function RedrawSection(props: {
  findings: Findings;
  job: Pick<
    ReturnType<typeof useJob<'redraw'>>,
    'result' | 'running' | 'cancel' | 'progress' | 'problem'
  >;
  how: string;
  onStart: (term: Term) => void;
  onFound: (found: RedrawFound) => void;
}) {
  const { findings, job } = props;
  const tellFound = useEffectEvent((found: RedrawFound) => props.onFound(found));
  const assigned = findings.design.tested.filter((role) => role.factor.kind === 'assigned');
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
  const { result } = job;
  useEffect(() => {
    if (result) tellFound(result);
  }, [result]);
  const draw = useCallback(
    (size: FigureSize) => (result ? redrawFigure(result, size) : null),
    [result],
  );
  if (!term) return null;
  return (
    <Section title="Draw the layout again" testId="redraw">
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
        label="Draw again"
        progressOf="Progress of the redraws"
        tone="primary"
        testId="redraw-start"
        onStart={() => props.onStart(term)}
      />
      {result ? (
        <>
          <p data-testid="redraw-sentence">
            {redrawSentence(result, findings.alpha, modelPOf(findings, result))}
          </p>
          {result.sample.length > 0 ? <FigureView draw={draw} /> : null}
        </>
      ) : null}
    </Section>
  );
}
