import { useEffect, useEffectEvent, useState } from 'react';
import type { DataTable } from '../../../../shared-types/fit';
import {
  positionModelLabels,
  positionModels,
  type PositionModel,
} from '../../../../shared-types/trial/position';
import { type Scale } from '../../../../shared-types/trial/measurement';
import { isCounts, SCALE_WORDS, type TableReading } from '../../../engine/findings';
import { useFindings } from '../../../store/findingsContext';
import { useJob } from '../../../store/jobsContext';
import {
  Button,
  Dialog,
  FieldRow,
  NumberField,
  ScaleSelect,
  Select,
  TextField,
  Problem,
} from '../../../ui';
import {
  dataTableBy,
  guessRoles,
  guessUnit,
  readingOf,
  ROLE_WORDS,
  widerUnits,
  type ColumnRole,
} from './tableReading';
import { plural } from '../../../words';
import { readTable, type TextTable } from '../../../tables';

/** What the columns of a table from elsewhere mean; then the same findings as of a planned trial. */
export function TableDialog(props: { name: string; text: string; onClose: () => void }) {
  const { name, text, onClose } = props;
  const [read] = useState(() => readTable(text));
  const [roles, setRoles] = useState<ColumnRole[]>(() => (read.ok ? guessRoles(read.table) : []));
  const [typed, setTyped] = useState<Partial<AskedOfTable>>({});
  const [asked, setAsked] = useState<{ table: DataTable; reading: TableReading } | null>(null);
  const showTable = useFindings((s) => s.showTable);
  const job = useJob('findingsOfTable');
  const finish = useEffectEvent(() => {
    if (!job.result?.ok || !asked) return;
    showTable({ name, findings: job.result.findings, ...asked });
    onClose();
  });
  useEffect(() => finish(), [job.result]);
  if (!read.ok) {
    return (
      <Dialog
        title={`Read ${name}`}
        onClose={onClose}
        actions={<Button onClick={onClose}>Close</Button>}
      >
        <p role="alert">{read.problem}</p>
      </Dialog>
    );
  }
  const { table } = read;
  const { scale = null, alpha = 0.05, position = 'none' } = typed;
  const unit = typed.unit ?? (isCounts(scale) ? '' : guessUnit(table, roles));
  const reading = readingOf(table, roles, { title: name, unit, alpha, position, scale });
  const problem =
    job.problem ??
    (job.result && !job.result.ok ? job.result.missing : null) ??
    (reading.ok ? null : reading.missing);
  return (
    <Dialog
      title={`Read ${name}`}
      wide
      testId="table-dialog"
      onClose={onClose}
      actions={
        <>
          <Button onClick={onClose}>Cancel</Button>
          <Button
            tone="primary"
            disabled={!reading.ok || job.running}
            data-testid="table-analyse"
            onClick={() => {
              if (!reading.ok) return;
              const input = { table: dataTableBy(table, roles), reading: reading.reading };
              setAsked(input);
              job.start(input);
            }}
          >
            {job.running ? 'Computing…' : 'Show the findings'}
          </Button>
        </>
      }
    >
      <p>
        {plural(table.rows.length, 'line')}, a pot each. Say what the columns mean; the table stays
        for this session only and changes nothing in the plan.
      </p>
      <ColumnRoles table={table} roles={roles} onChange={setRoles} />
      <QuestionFields
        {...{ unit, scale, alpha, position }}
        onChange={(patch) => setTyped({ ...typed, ...patch })}
      />
      {widerUnits(table, roles).map((text) => (
        <p key={text} role="status" className="field-problem">
          {text}
        </p>
      ))}
      <Problem text={problem} />
    </Dialog>
  );
}

/** What each column means. */
function ColumnRoles(props: {
  table: TextTable;
  roles: readonly ColumnRole[];
  onChange: (roles: ColumnRole[]) => void;
}) {
  const { table, roles, onChange } = props;
  return (
    <div className="findings-columns">
      {table.columns.map((column, c) => (
        <Select<ColumnRole>
          key={column}
          label={`“${column}” (${[...new Set(table.rows.map((row) => row.cells[c] ?? ''))].slice(0, 3).join(', ')}…)`}
          value={roles[c] ?? 'nothing'}
          options={ROLE_WORDS}
          onCommit={(role) => onChange(roles.map((old, i) => (i === c ? role : old)))}
        />
      ))}
    </div>
  );
}

/** What is asked of the table, beyond what its columns mean. */
interface AskedOfTable {
  unit: string;
  scale: Scale | null;
  alpha: number;
  position: PositionModel;
}

function QuestionFields(
  props: AskedOfTable & { onChange: (patch: Partial<AskedOfTable>) => void },
) {
  const { onChange } = props;
  return (
    <FieldRow>
      <TextField
        label="Unit of what was measured"
        value={props.unit}
        mayBeEmpty
        onCommit={(unit) => onChange({ unit })}
      />
      <ScaleSelect
        value={props.scale}
        counts
        words={SCALE_WORDS}
        onCommit={(scale) => onChange({ scale: scale ?? null })}
      />
      <NumberField
        label="Risk of a false alarm"
        value={props.alpha}
        lowest={0.0001}
        highest={0.5}
        step={0.01}
        onCommit={(alpha) => onChange({ alpha })}
      />
      <Select<PositionModel>
        label="Planned analysis"
        value={props.position}
        options={positionModels.map((value) => ({ value, label: positionModelLabels[value] }))}
        onCommit={(position) => onChange({ position })}
      />
    </FieldRow>
  );
}
