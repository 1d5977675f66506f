import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  recordsCsv,
  recordsDictionaryCsv,
  recordsLongCsv,
  type DecimalMark,
  type Separator,
} from '../../document/records';
import { useHostOffer } from '../../store/hostContext';
import { Button, Checkbox, Select } from '../../ui';

/** Tables in and out. */
export function TablesPanel(props: {
  plan: Plan;
  onTable: (table: { name: string; text: string }) => void;
  say: (text: string | null) => void;
}) {
  const { plan, say } = props;
  const host = useHostOffer();
  const [shape, setShape] = useState<'wide' | 'long'>('wide');
  const [separator, setSeparator] = useState<Separator>(',');
  const [decimal, setDecimal] = useState<DecimalMark>('.');
  const [byteOrderMark, setByteOrderMark] = useState(false);
  const style = { separator, decimal, byteOrderMark };
  const clash = separator === ',' && decimal === ',';
  const fail = (error: unknown) => say(error instanceof Error ? error.message : String(error));
  const put = (what: string, text: string) => {
    host
      .exportText(`${plan.title} – ${what}.csv`, 'csv', text)
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
      </div>
      <Checkbox
        label="Begin with a byte order mark, for spreadsheets that garble µ and accents without it"
        checked={byteOrderMark}
        onCommit={setByteOrderMark}
      />
      <div className="section-actions">
        <Button
          data-testid="export"
          onClick={() =>
            put('records', shape === 'wide' ? recordsCsv(plan, style) : recordsLongCsv(plan, style))
          }
        >
          Export table…
        </Button>
        <Button
          data-testid="export-dictionary"
          onClick={() => put('columns', recordsDictionaryCsv(plan, shape, style))}
        >
          Export what its columns mean…
        </Button>
        <Button
          data-testid="import"
          onClick={() => {
            host.open('table').then((opened) => {
              if (opened) props.onTable({ name: opened.ref.name, text: opened.text });
            }, fail);
          }}
        >
          Import table…
        </Button>
      </div>
    </div>
  );
}
