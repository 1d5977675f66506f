import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { recordsCsv, recordsDictionaryCsv, recordsLongCsv } from '../../../document/records';
import { hasSeveralRuns, runName, seenFromEach, titleInRun } from '../../../document/runs';
import { useHostOffer } from '../../../store/hostContext';
import type { StartJob } from '../../../derive';
import { useStartJob } from '../../../store/jobsContext';
import type { DecimalMark, Separator } from '../../../tables';
import { bytesOfSigns, encodeText, type TextEncoding } from '../../../tables/encoding';
import { Button, Select } from '../../../ui';
import { reasonOf } from '../../../words';
import type { TableFile } from '../importing/useImport';

interface Opened {
  ref: { name: string };
  text: string;
  bytes?: true | undefined;
}

/** A workbook is unpacked away from the screen's thread: a large one takes seconds. */
async function fileOf(
  { ref: { name }, text, bytes }: Opened,
  startJob: StartJob,
  say: (text: string) => void,
): Promise<TableFile> {
  if (!bytes) return { name, text };
  say(`Reading ${name}…`);
  const { result } = startJob('workbook', { bytes: bytesOfSigns(text) }, () => undefined);
  return { name, book: await result };
}

/** Tables in and out. */
export function TablesPanel(props: {
  plan: Plan;
  onTable: (file: TableFile) => void;
  say: (text: string | null) => void;
}) {
  const { plan, say } = props;
  const host = useHostOffer();
  const startJob = useStartJob();
  const [shape, setShape] = useState<'wide' | 'long'>('wide');
  const [separator, setSeparator] = useState<Separator>(',');
  const [decimal, setDecimal] = useState<DecimalMark>('.');
  const [encoding, setEncoding] = useState<TextEncoding>('utf-8');
  const [of, setOf] = useState<'shown' | 'all'>('shown');
  const style = { separator, decimal };
  const several = hasSeveralRuns(plan);
  const runs = of === 'all' ? seenFromEach(plan) : [plan];
  const title = of === 'all' ? plan.title : titleInRun(plan);
  const clash = separator === ',' && decimal === ',';
  const fail = (error: unknown) => say(reasonOf(error));
  const put = (what: string, text: string) => {
    const table = encodeText(text, encoding);
    if (!table.ok) {
      const lacking = table.lacking.slice(0, 8).join(' ');
      say(`Nothing was exported: this encoding has no ${lacking}. UTF-8 has every sign.`);
      return;
    }
    host
      .exportText(`${title} – ${what}.csv`, 'csv', table.bytes)
      .then((done) => say(done ? `Exported: ${what}.` : null), fail);
  };
  return (
    <div className="records-form" data-testid="tables-panel">
      <div className="records-fields">
        <Select
          label="A line for"
          testId="export-shape"
          value={shape}
          options={[
            { value: 'wide', label: 'each pot' },
            { value: 'long', label: 'each pot and measurement' },
          ]}
          onCommit={setShape}
        />
        {several ? (
          <Select
            label="Runs"
            testId="export-runs"
            value={of}
            options={[
              { value: 'shown', label: `${runName(plan).toLowerCase()} alone` },
              { value: 'all', label: 'all runs that are drawn' },
            ]}
            onCommit={setOf}
          />
        ) : null}
        <Select
          label="Columns separated by"
          testId="export-separator"
          value={separator}
          options={[
            { value: ',', label: 'comma' },
            { value: ';', label: 'semicolon' },
            { value: '\t', label: 'tab' },
          ]}
          onCommit={setSeparator}
        />
        <Select
          label="Decimals after"
          testId="export-decimal"
          value={decimal}
          options={[
            { value: '.', label: 'point' },
            { value: ',', label: 'comma' },
          ]}
          remark={clash ? 'Numbers are quoted.' : undefined}
          onCommit={setDecimal}
        />
        <Select
          label="Encoding"
          testId="export-encoding"
          value={encoding}
          options={[
            { value: 'utf-8', label: 'UTF-8' },
            { value: 'utf-8-mark', label: 'UTF-8, with its mark for spreadsheets' },
            { value: 'windows-1252', label: 'Windows-1252, for older programs' },
            { value: 'utf-16', label: 'UTF-16' },
          ]}
          onCommit={setEncoding}
        />
      </div>
      <div className="section-actions">
        <Button
          data-testid="export"
          onClick={() =>
            put(
              'records',
              shape === 'wide' ? recordsCsv(plan, style, runs) : recordsLongCsv(plan, style, runs),
            )
          }
        >
          Export table…
        </Button>
        <Button
          data-testid="export-dictionary"
          onClick={() => put('columns', recordsDictionaryCsv(plan, shape, style, runs))}
        >
          Export what its columns mean…
        </Button>
        <Button
          data-testid="import"
          onClick={() => {
            host
              .open('records')
              .then((opened) => opened && fileOf(opened, startJob, say))
              .then((file) => {
                say(null);
                if (file) props.onTable(file);
              }, fail);
          }}
        >
          Import table…
        </Button>
      </div>
    </div>
  );
}
