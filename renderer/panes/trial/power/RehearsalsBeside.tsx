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
  const begun = useRef('');
  const [kept, setKept] = useState<{ plan: Plan | null; all: Rehearsed[] }>({ plan, all: [] });
  const all = kept.plan === plan ? kept.all : [];
  useEffect(() => {
    if (!result || begun.current === '') return;
    const of = begun.current;
    setKept((before) => ({
      plan,
      all: [
        ...(before.plan === plan ? before.all.filter((one) => one.of !== of) : []),
        { of, report: result },
      ],
    }));
    // A result belongs to the plan that was shown as it came.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [result]);
  return {
    all,
    begin: (of: string) => {
      begun.current = of;
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
