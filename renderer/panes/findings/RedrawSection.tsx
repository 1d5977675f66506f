import { useCallback, useEffect, useEffectEvent, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { redrawInputOf, redrawSentence, type Findings, type RedrawFound } from '../../derive';
import { redrawFigure, type FigureSize } from '../../print/report';
import { useJob } from '../../store/jobsContext';
import { Button, FieldRow, Section, Select } from '../../ui';
import { FigureView } from './FigureView';

const RUNS = 9999;

/** The layout drawn again and again: how often would chance alone give as much? */
export function RedrawSection(props: {
  plan: Plan;
  findings: Findings;
  onFound: (found: RedrawFound) => void;
}) {
  const { plan, findings } = props;
  const job = useJob('redraw');
  const tellFound = useEffectEvent((found: RedrawFound) => props.onFound(found));
  const assigned = findings.design.tested.filter((role) => role.factor.kind === 'assigned');
  const terms = [
    ...assigned.map((role) => ({ label: role.factor.name, ids: [role.factor.id] })),
    ...assigned.flatMap((a, i) =>
      assigned.slice(i + 1).map((b) => ({
        label: `${a.factor.name} × ${b.factor.name}`,
        ids: [a.factor.id, b.factor.id],
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
  const input = redrawInputOf(plan);
  if (!term || !input) return null;
  return (
    <Section title="Draw the layout again" testId="redraw">
      <p className="field-remark">
        The records stay with their pots while the layout is drawn anew by its own scheme and
        limits. This rests on the draw alone, not on a bell curve.
      </p>
      <FieldRow>
        <Select
          label="Term"
          value={term.label}
          options={terms.map(({ label }) => ({ value: label, label }))}
          onCommit={setAsked}
        />
      </FieldRow>
      <div className="section-actions">
        {job.running ? (
          <>
            <Button onClick={job.cancel}>Cancel</Button>
            <progress value={job.progress ?? 0} max={1} aria-label="Progress of the redraws" />
          </>
        ) : (
          <Button
            tone="primary"
            data-testid="redraw-start"
            onClick={() =>
              job.start({
                data: input,
                asked: {
                  measurementId: findings.question.measurement.id,
                  index: findings.question.index,
                  factorIds: term.ids,
                  runs: RUNS,
                  seed: plan.layout?.seed ?? plan.title,
                },
              })
            }
          >
            Draw again
          </Button>
        )}
      </div>
      {job.problem ? (
        <p role="alert" className="field-problem">
          {job.problem}
        </p>
      ) : null}
      {result ? (
        <>
          <p data-testid="redraw-sentence">{redrawSentence(result, findings.alpha)}</p>
          {result.sample.length > 0 ? <FigureView draw={draw} /> : null}
        </>
      ) : null}
    </Section>
  );
}
