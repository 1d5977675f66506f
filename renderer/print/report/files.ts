import type { Plan } from '../../../shared-types/plan';
import { recordsCsv, recordsDictionaryCsv } from '../../document/records';
import { writePlan } from '../../document/open';
import type { Findings } from '../../engine/findings';
import { dataTableCsv } from '../../tables';
import type { UnitSystem } from '../../words';
import { tablesCsv } from './csv';
import { dataTable } from './dataTable';
import { findingsTables } from './tables';

/** A file that goes with the report: attached to its PDF, linked in its page. */
export interface ReportFile {
  name: string;
  /** Media type. */
  type: string;
  text: string;
  /** What is in it, in words. */
  about: string;
}

/** The data and tables of a report, so that everything can be computed again. */
export function reportFiles(of: {
  title: string;
  plan: Plan | null;
  findings: Findings;
}): ReportFile[] {
  const { title, plan, findings } = of;
  const lengths: UnitSystem = plan?.display.lengths ?? 'metric';
  const csv = (name: string, about: string, text: string): ReportFile => ({
    name: `${name}.csv`,
    type: 'text/csv',
    about,
    text,
  });
  return [
    csv('data', 'what the analysis read, one row a pot', dataTableCsv(findings.table)),
    ...(findings.averaged
      ? [csv('means', 'the means per unit that were fitted', dataTableCsv(findings.averaged.table))]
      : []),
    csv(
      'tables',
      'every table with full figures',
      tablesCsv([...findingsTables(findings, lengths), dataTable(title, findings, lengths)]),
    ),
    ...(plan
      ? [
          csv('records', 'all that was recorded, one row a pot', recordsCsv(plan)),
          csv(
            'columns',
            'what the columns of records.csv mean',
            recordsDictionaryCsv(plan, 'wide'),
          ),
          {
            name: 'plan.evenrack',
            type: 'application/json',
            text: writePlan(plan),
            about: 'the whole plan, to be opened in Evenrack',
          },
        ]
      : []),
  ];
}
