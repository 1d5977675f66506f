import type { Plan } from '../../../../shared-types/plan';
import { runName } from '../../../document/runs';
import { list, plural } from '../../../words';
import type { LeftOutLine, TablePreview } from '../../../document/records';
import { Facts, Table } from '../../../ui';
import type { FoundTable } from './useImport';

const LISTED = 200;
const POTS_LISTED = 40;

/** What would be taken over, in figures. */
export function ImportFacts({ found: { preview, summary } }: { found: FoundTable }) {
  const { taking } = summary;
  const rows: [string, number][] = [
    ['Values to take over', taking.values.length],
    ...whereAny('Of the second entry', taking.secondValues.length),
    ['Of these, other than what is recorded', summary.changing],
    ...whereAny('Of these, with the day they were taken on', summary.dated),
    ['Marks to take over', taking.marks.length + taking.secondMarks.length],
    ...whereAny('Notes to take over', taking.notes.length),
    ['Cells and lines with trouble', summary.leftOut.length],
    ['Measured pots not in the table', preview.missingPots.length],
  ];
  return <Facts rows={rows.map(([label, count]) => [label, String(count)] as const)} />;
}

/** A table of several runs: whose lines are taken, and whose wait until their run is shown. */
export function ImportOtherRuns(props: { plan: Plan; runs: TablePreview['otherRuns'] }) {
  const { plan, runs } = props;
  if (runs.length === 0) return null;
  const counted = runs.map(({ name, lines }) => `${plural(lines, 'line')} of ${name}`);
  return (
    <p data-testid="import-other-runs">
      Lines of {runName(plan).toLowerCase()} are taken over. Left out: {list(counted)}; show that
      run to take them over.
    </p>
  );
}

function whereAny(label: string, count: number): [string, number][] {
  return count > 0 ? [[label, count]] : [];
}

/** Lines and cells that stay out, each with its reason. */
export function ImportLeftOut({ rows }: { rows: readonly LeftOutLine[] }) {
  if (rows.length === 0) return null;
  return (
    <Table
      caption={`Left out, with the reason${rows.length > LISTED ? ` (first ${LISTED})` : ''}`}
      showCaption
      rows={rows.slice(0, LISTED)}
      rowKey={(row) => `${row.line} ${row.code} ${row.text} ${row.why}`}
      columns={[
        { key: 'line', head: 'Line', numeric: true, cell: (row) => row.line },
        { key: 'code', head: 'Pot', cell: (row) => row.code || '–' },
        { key: 'text', head: 'Found', cell: (row) => row.text },
        { key: 'why', head: 'Why', cell: (row) => row.why },
      ]}
    />
  );
}

/** Measured pots that the table doesn't name. */
export function ImportMissing({ pots }: { pots: TablePreview['missingPots'] }) {
  if (pots.length === 0) return null;
  const codes = pots.slice(0, POTS_LISTED).map(({ code }) => code);
  const more = pots.length - codes.length;
  return (
    <p className="field-remark">
      Not in the table: {codes.join(', ')}
      {more > 0 ? ` and ${more} more` : ''}
    </p>
  );
}
