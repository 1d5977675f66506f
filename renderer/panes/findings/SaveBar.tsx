import { useState, type ReactNode } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { noticesOf, noticesOfTable } from '../../derive';
import type { Findings, RandomisationFound } from '../../engine/findings';
import {
  dataTable,
  findingsTables,
  reportFiles,
  reportHtml,
  tablesCsv,
  type ReportInput,
} from '../../print/report';
import { useSession } from '../../store/context';
import { useFindingsCurrent } from '../../store/findingsContext';
import { useHostOffer } from '../../store/hostContext';
import { Button } from '../../ui';
import { type UnitSystem, reasonOf } from '../../words';

/** The report and the tables as files. */
export function SaveBar(props: {
  title: string;
  /** null: the findings are of a table from elsewhere. */
  plan: Plan | null;
  findings: Findings;
  randomisationTests: readonly RandomisationFound[];
  children?: ReactNode;
}) {
  const { title, plan, findings, randomisationTests } = props;
  const host = useHostOffer();
  const paper = useSession((s) => s.paper);
  const current = useFindingsCurrent();
  const [told, setTold] = useState<{ of: Findings; text: string | null } | null>(null);
  // That others were saved says nothing of these.
  const said = told?.of === findings ? told.text : null;
  const setSaid = (text: string | null) => setTold({ of: findings, text });
  const name = title;
  const report = (): ReportInput => ({
    title,
    plan,
    findings,
    notices: plan ? noticesOf(plan, { ok: true, findings }) : noticesOfTable(findings),
    paper,
    randomisationTests,
  });
  const tell = (work: () => Promise<string | null>) => {
    setSaid('Working…');
    // A moment for the word to be seen before the report is made.
    window.setTimeout(() => {
      work().then(setSaid, (error: unknown) => setSaid(reasonOf(error)));
    }, 20);
  };
  const done = (saved: boolean) => (saved ? 'Saved.' : null);
  return (
    <div className="findings-bar">
      <Button
        tone="primary"
        disabled={!current}
        data-testid="save-report"
        onClick={() =>
          tell(() =>
            host.exportText(`${name} – report.html`, 'html', reportHtml(report())).then(done),
          )
        }
      >
        Save report…
      </Button>
      <Button
        disabled={!current}
        data-testid="save-report-pdf"
        onClick={() =>
          tell(async () => {
            const of = report();
            const html = reportHtml(of);
            const result = await host.savePdf(`${name} – report.pdf`, html, reportFiles(of));
            if (result !== 'unavailable') return result === 'saved' ? 'Saved.' : null;
            await host.print(html);
            return 'A browser saves PDF from its print dialogue.';
          })
        }
      >
        Report as PDF…
      </Button>
      <SaveTables
        name={name}
        title={title}
        findings={findings}
        lengths={plan?.display.lengths ?? 'metric'}
        disabled={!current}
        say={setSaid}
      />
      {props.children}
      <span role="status" className="field-remark">
        {said}
      </span>
    </div>
  );
}

/** All tables of the findings as one file of numbers. */
function SaveTables(props: {
  name: string;
  title: string;
  findings: Findings;
  lengths: UnitSystem;
  disabled: boolean;
  say?: (text: string | null) => void;
}) {
  const host = useHostOffer();
  return (
    <Button
      disabled={props.disabled}
      data-testid="save-tables"
      onClick={() => {
        const { title, findings, lengths } = props;
        const csv = tablesCsv([
          ...findingsTables(findings, lengths),
          dataTable(title, findings, lengths),
        ]);
        host.exportText(`${props.name} – tables.csv`, 'csv', csv).then(
          (saved) => props.say?.(saved ? 'Saved.' : null),
          (error: unknown) => props.say?.(reasonOf(error)),
        );
      }}
    >
      Save tables…
    </Button>
  );
}
