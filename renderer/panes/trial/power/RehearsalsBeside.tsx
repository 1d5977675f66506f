import { useEffect, useRef, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { Rate, RehearsalReport } from '../../../engine/trial';
import { Table } from '../../../ui';
import { fixed } from '../../../words';

interface Rehearsed {
  of: string;
  report: RehearsalReport;
}

/** The rehearsals of one plan and of its ways out, as they come; another plan begins anew. */
export function useRehearsed(plan: Plan | null, result: RehearsalReport | null) {
  // A result belongs to the plan that it was begun for, whatever has been edited since.
  const begun = useRef<{ of: string; plan: Plan | null } | null>(null);
  const [kept, setKept] = useState<{ plan: Plan | null; all: Rehearsed[] }>({ plan, all: [] });
  useEffect(() => {
    const from = begun.current;
    if (!result || !from) return;
    const { of } = from;
    setKept((before) => ({
      plan: from.plan,
      all: [
        ...(before.plan === from.plan ? before.all.filter((one) => one.of !== of) : []),
        { of, report: result },
      ],
    }));
  }, [result]);
  return {
    all: kept.plan === plan ? kept.all : [],
    begin: (of: string) => {
      begun.current = { of, plan };
    },
  };
}

/** Several rehearsals beside each other: what each question gains by a way out. */
export function RehearsalsBeside({ rehearsals }: { rehearsals: readonly Rehearsed[] }) {
  const [first] = rehearsals;
  if (!first || rehearsals.length < 2) return null;
  const rateOf = ({ report }: Rehearsed, name: string, what: 'falseAlarm' | 'power') =>
    report.factors.find((factor) => factor.name === name)?.[what] ?? null;
  return (
    <Table<Rehearsed>
      caption="Beside each other: false alarms · power"
      showCaption
      testId="rehearsals-beside"
      rows={rehearsals}
      rowKey={({ of }) => of}
      columns={[
        { key: 'of', head: 'Rehearsed', cell: ({ of }) => of },
        ...first.report.factors.map(({ name }) => ({
          key: name,
          head: name,
          numeric: true,
          cell: (row: Rehearsed) =>
            `${rateSaid(rateOf(row, name, 'falseAlarm'))} · ${rateSaid(rateOf(row, name, 'power'))}`,
        })),
      ]}
    />
  );
}

export function rateSaid(rate: Rate | null): string {
  return rate ? `${fixed(rate.share, 3)} ± ${fixed(rate.se, 3)}` : 'no test';
}
