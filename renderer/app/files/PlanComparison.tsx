import type { ReactNode } from 'react';
import { potsIn, valuesIn, type PlanDifference } from '../../document/compare';
import type { Plan } from '../../../shared-types/plan';
import { Table, thisMinute } from '../../ui';
import { sayInstant } from '../../words';

interface Side {
  /** Head of its column. */
  name: string;
  plan: Plan;
  /** When this state came about, in words. */
  time: string;
}

/** Two states of one plan side by side: title, time, counts, and the parts that differ. */
export function PlanComparison(props: {
  mine: Side;
  theirs: Side;
  differences: readonly PlanDifference[];
}) {
  const { mine, theirs } = props;
  const values = {
    part: 'Values',
    mine: `${valuesIn(mine.plan)}`,
    theirs: `${valuesIn(theirs.plan)}`,
  };
  const rows = [
    { part: 'Title', mine: mine.plan.title, theirs: theirs.plan.title },
    { part: 'Time', mine: mine.time, theirs: theirs.time },
    { part: 'Pots', mine: `${potsIn(mine.plan)}`, theirs: `${potsIn(theirs.plan)}` },
    // Where the records differ, their own row counts the values.
    ...(props.differences.some(({ part }) => part === 'Records') ? [] : [values]),
    ...props.differences.filter(({ part }) => part !== 'Title'),
  ];
  const cell = (key: 'part' | 'mine' | 'theirs', head: ReactNode) => ({
    key,
    head,
    cell: (row: PlanDifference) => row[key],
  });
  return (
    <Table
      caption="What differs"
      testId="plan-comparison"
      rows={rows}
      rowKey={(row) => row.part}
      columns={[cell('part', ''), cell('mine', mine.name), cell('theirs', theirs.name)]}
    />
  );
}

/** A moment by the computer's own clock, to the second: two copies may be a minute apart. */
export function sayMoment(iso: string): string {
  const moment = new Date(iso);
  const seconds = String(moment.getSeconds()).padStart(2, '0');
  return `${sayInstant(thisMinute(moment))}:${seconds}`;
}
