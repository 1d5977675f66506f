import './findings.css';
import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Findings, FindingsOutcome, RandomisationFound } from '../../engine/findings';
import { usePlanStore, useSession } from '../../store/context';
import {
  useFindings,
  useFindingsCurrent,
  useFindingsOfPlan,
  useFindingsShown,
} from '../../store/findingsContext';
import type { TableFindings } from '../../store/findingsStore';
import { Button, EmptyState } from '../../ui';
import { Choice } from './Choice';
import { Computing, Earlier } from './Computing';
import { FindingsBody } from './sections/FindingsBody';
import { NextTrial } from './NextTrial';
import { OpenTable } from './ownTable/OpenTable';
import { PlanRandomisation, TableRandomisation } from './sections/RandomisationSection';
import { GrowthSection } from './sections/GrowthSection';
import { RuleSection } from './sections/RuleSection';
import { SaveBar } from './SaveBar';

/** What differed, by how much, how sure, and whether position did it. */
export function FindingsSide() {
  useFindingsOfPlan();
  const plan = usePlanStore((s) => s.plan);
  const outcome = useFindingsShown();
  const current = useFindingsCurrent();
  const fromTable = useFindings((s) => s.fromTable);
  if (!plan) return null;
  if (fromTable) return <OfTable fromTable={fromTable} />;
  // That there is nothing to tell may no longer be so; of earlier findings the figures are kept.
  if (!outcome || (!outcome.ok && !current)) {
    return (
      <>
        <Computing />
        <Choice />
      </>
    );
  }
  if (!outcome.ok) return <Missing plan={plan} outcome={outcome} />;
  return <OfPlan plan={plan} findings={outcome.findings} />;
}

/** Randomisation tests belong to the findings that they were made for, and go into their report. */
function useRandomisationTests(findings: Findings) {
  const [kept, setKept] = useState<{ of: Findings; found: RandomisationFound[] } | null>(null);
  const found = kept?.of === findings ? kept.found : [];
  const keep = (one: RandomisationFound) => {
    const others = found.filter(({ term }) => term !== one.term);
    setKept({ of: findings, found: [...others, one] });
  };
  return [found, keep] as const;
}

function OfPlan({ plan, findings }: { plan: Plan; findings: Findings }) {
  const current = useFindingsCurrent();
  const [tests, keep] = useRandomisationTests(findings);
  return (
    <div aria-busy={!current} data-testid="findings">
      <SaveBar title={plan.title} plan={plan} findings={findings} randomisationTests={tests}>
        <OpenTable />
        {current ? null : <Earlier />}
      </SaveBar>
      <div className={current ? undefined : 'findings-stale'}>
        <FindingsBody
          findings={findings}
          editable
          choice={<Choice />}
          growth={<GrowthSection plan={plan} findings={findings} />}
          randomisation={<PlanRandomisation plan={plan} findings={findings} onFound={keep} />}
        />
      </div>
      {plan.trial ? <RuleSection plan={plan} trial={plan.trial} /> : null}
      {current ? <NextTrial plan={plan} findings={findings} /> : null}
    </div>
  );
}

function OfTable({ fromTable }: { fromTable: TableFindings }) {
  const { findings, name, table, reading } = fromTable;
  const showTable = useFindings((s) => s.showTable);
  const [tests, keep] = useRandomisationTests(findings);
  return (
    <div data-testid="findings-of-table">
      <div className="findings-bar">
        <strong>From {name}</strong>
        <Button onClick={() => showTable(null)}>Back to the plan’s findings</Button>
      </div>
      <SaveBar
        title={name.replace(/\.[^.]*$/, '')}
        plan={null}
        findings={findings}
        randomisationTests={tests}
      >
        <OpenTable />
      </SaveBar>
      <FindingsBody
        findings={findings}
        editable={false}
        randomisation={
          <TableRandomisation table={table} reading={reading} findings={findings} onFound={keep} />
        }
      />
    </div>
  );
}

/** Where to go first when there is nothing to show. */
const FIRST = { trial: 'Go to the trial', records: 'Go to the records' } as const;

function Missing(props: { plan: Plan; outcome: FindingsOutcome & { ok: false } }) {
  const { plan, outcome } = props;
  const goTo = useSession((s) => s.goTo);
  const { obstacle, missing } = outcome;
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
          {missing} {obstacle?.remedy}
        </span>
      </EmptyState>
      {missing.startsWith('No value') ? null : <Choice startsOpen />}
      {plan.trial ? <RuleSection plan={plan} trial={plan.trial} /> : null}
    </>
  );
}
