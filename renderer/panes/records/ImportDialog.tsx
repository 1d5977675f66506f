import { useMemo, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { unitsAskedBy } from '../../derive/records/recordNotices';
import { importValues } from '../../document/commands';
import { measurementLabel, measurementsInOrder } from '../../document/queries';
import {
  matchTable,
  toValues,
  type CellReport,
  type ColumnUse,
  type TablePreview,
} from '../../document/records';
import { useDispatch } from '../../store/context';
import { Button, Checkbox, Dialog, Facts, FieldRow, Select, Table } from '../../ui';
import { plural } from '../../words';
import { readTable, separatorNames, type DecimalMark, type Separator } from '../../tables';

const LISTED = 200;
const SEPARATORS: readonly Separator[] = [',', ';', '\t', '|'];
const WORDS: Record<DecimalMark, string> = { '.': 'point', ',': 'comma' };

/** What a table would put into the records, cell by cell, before anything is taken over. */
export function ImportDialog(props: {
  plan: Plan;
  name: string;
  text: string;
  onClose: () => void;
  say: (text: string) => void;
}) {
  const { plan, onClose, say } = props;
  const dispatch = useDispatch();
  const [uses, setUses] = useState<Record<number, ColumnUse>>({});
  const [withOdd, setWithOdd] = useState(false);
  const [second, setSecond] = useState(false);
  const [separator, setSeparator] = useState<Separator | 'auto'>('auto');
  const [decimal, setDecimal] = useState<DecimalMark | 'auto'>('auto');
  const read = useMemo(
    () => readTable(props.text, { separator, decimal }),
    [props.text, separator, decimal],
  );
  const preview = useMemo(
    () => (read.ok ? matchTable(plan, read.table, uses) : null),
    [plan, read, uses],
  );
  const asked = useMemo(
    () => (preview && !second ? unitsAskedBy(plan, toValues(preview, withOdd).values) : []),
    [plan, preview, withOdd, second],
  );
  const foundDecimal = preview?.decimal;
  const writing = (
    <FieldRow>
      <Select
        label="Columns separated by"
        testId="import-separator"
        value={separator}
        options={[
          {
            value: 'auto',
            label: read.ok ? `as found: ${separatorNames[read.table.separator]}` : 'as found',
          },
          ...SEPARATORS.map((value) => ({ value, label: separatorNames[value] })),
        ]}
        onCommit={(chosen) => {
          setSeparator(chosen);
          setUses({});
        }}
      />
      <Select
        label="Decimals after"
        testId="import-decimal"
        value={decimal}
        options={[
          { value: 'auto', label: foundDecimal ? `as found: ${WORDS[foundDecimal]}` : 'as found' },
          { value: '.', label: WORDS['.'] },
          { value: ',', label: WORDS[','] },
        ]}
        onCommit={setDecimal}
      />
    </FieldRow>
  );
  if (!read.ok || !preview) {
    return (
      <Dialog
        title={`Import ${props.name}`}
        onClose={onClose}
        actions={<Button onClick={onClose}>Close</Button>}
      >
        <p role="alert">{read.ok ? 'The table could not be matched.' : read.problem}</p>
        {writing}
      </Dialog>
    );
  }
  const taking = toValues(preview, withOdd);
  const { values, secondValues } = taking;
  const long = preview.form === 'long';
  const count = values.length + secondValues.length;
  const troubled = preview.cells.filter((cell) => troubleOf(cell) !== null);
  const odd = preview.cells.filter((cell) => cell.outcome.kind === 'out-of-range').length;
  const recorded = second ? plan.records.second : plan.records.values;
  const changesIn = (list: typeof recorded, taken: typeof values) =>
    taken.filter(({ measurementId, potId, value }) => {
      const was = list[measurementId]?.[potId];
      return was !== undefined && was !== value;
    }).length;
  const changing = changesIn(recorded, values) + changesIn(plan.records.second, secondValues);
  const trouble = [
    ...preview.rows.map((row) => ({
      line: row.line,
      code: row.code,
      text: '',
      why: ROW_WORDS[row.problem],
    })),
    ...troubled.map((cell) => ({
      line: cell.line,
      code: cell.code,
      text: cell.text,
      why: troubleOf(cell) ?? '',
    })),
  ].sort((a, b) => a.line - b.line);
  return (
    <Dialog
      title={`Import ${props.name}`}
      wide
      testId="import-dialog"
      onClose={onClose}
      actions={
        <>
          <Button onClick={onClose}>Cancel</Button>
          <Button
            tone="primary"
            disabled={preview.problem !== null || Object.values(taking).every(isEmpty)}
            data-testid="import-take"
            onClick={() => {
              const done = dispatch(importValues, { ...taking, second });
              if (done.ok) {
                say(`Imported ${plural(count, 'value')} from ${props.name}.`);
                onClose();
              } else say(done.reason);
            }}
          >
            Take over {plural(count, 'value')}
          </Button>
        </>
      }
    >
      <p>
        {plural(read.table.rows.length, 'line')} below the header. Nothing is changed until you take
        the values over.
      </p>
      {writing}
      {preview.problem !== null ? (
        <p role="alert" className="field-problem">
          {preview.problem}
        </p>
      ) : null}
      {long ? <p data-testid="import-long">{longWords(preview.columns)}</p> : null}
      <FieldRow>
        {preview.columns.map(({ name, use }, i) =>
          use.use === 'long' || long ? null : (
            <Select
              key={`${i} ${name}`}
              label={`Column “${name}”`}
              value={keyOf(use)}
              options={optionsFor(plan, use)}
              onCommit={(key) => setUses({ ...uses, [i]: fromKey(key) })}
            />
          ),
        )}
      </FieldRow>
      <Facts
        rows={[
          ['Values to take over', String(values.length)],
          ...(secondValues.length > 0
            ? ([['Of the second entry', String(secondValues.length)]] as [string, string][])
            : []),
          ['Of these, other than what is recorded', String(changing)],
          ['Marks to take over', String(taking.marks.length + taking.secondMarks.length)],
          ...(taking.notes.length > 0
            ? ([['Notes to take over', String(taking.notes.length)]] as [string, string][])
            : []),
          ['Cells and lines with trouble', String(trouble.length)],
          ['Measured pots not in the table', String(preview.missingPots.length)],
        ]}
      />
      {asked.map((text) => (
        <p key={text} role="alert" className="field-problem">
          {text}
        </p>
      ))}
      {secondValues.length === 0 ? (
        <Checkbox
          label="As the second entry, to be compared with the first"
          checked={second}
          testId="import-second"
          onCommit={setSecond}
        />
      ) : null}
      {odd > 0 ? (
        <Checkbox
          label={`Take over ${plural(odd, 'value')} outside the likely range too; I have looked at them`}
          checked={withOdd}
          onCommit={setWithOdd}
        />
      ) : null}
      {trouble.length > 0 ? (
        <Table
          caption={`Left out, with the reason${trouble.length > LISTED ? ` (first ${LISTED})` : ''}`}
          showCaption
          rows={trouble.slice(0, LISTED)}
          rowKey={(row) => `${row.line} ${row.code} ${row.text} ${row.why}`}
          columns={[
            { key: 'line', head: 'Line', numeric: true, cell: (row) => row.line },
            { key: 'code', head: 'Pot', cell: (row) => row.code || '–' },
            { key: 'text', head: 'Found', cell: (row) => row.text },
            { key: 'why', head: 'Why', cell: (row) => row.why },
          ]}
        />
      ) : null}
      {preview.missingPots.length > 0 ? (
        <p className="field-remark">
          Not in the table:{' '}
          {preview.missingPots
            .slice(0, 40)
            .map((pot) => pot.code)
            .join(', ')}
          {preview.missingPots.length > 40 ? ` and ${preview.missingPots.length - 40} more` : ''}
        </p>
      ) : null}
    </Dialog>
  );
}

const ROW_WORDS = {
  'no-code': 'no pot code',
  'unknown-code': 'no pot of this trial has this code',
  'code-twice': 'this code stands in the table more than once',
  'code-of-several-pots': 'several pots bear this code',
  'cut-off': 'the file ends within this line; it may have been cut off',
} as const;

function troubleOf(cell: CellReport): string | null {
  switch (cell.outcome.kind) {
    case 'value':
    case 'mark':
    case 'note':
    case 'blank':
      return null;
    case 'out-of-range':
      return 'outside the likely range';
    case 'not-a-number':
      return 'a number is expected';
    case 'two-readings':
      return `can be ${cell.outcome.asGrouped} or ${cell.outcome.asDecimal}; choose “Decimals after” above`;
    case 'not-a-mark':
      return 'dead, missing, excluded or nothing is expected';
    case 'not-a-date':
      return 'a day such as 2026-03-31 is expected';
    case 'unknown-measurement':
      return 'the trial has no such measurement';
    case 'several-measurements':
      return 'several measurements are called so; the date has to tell them apart';
    case 'other-unit':
      return 'the measurement is taken in another unit';
    case 'twice':
      return 'another line gives this measurement of this pot, too';
    case 'differs':
      return 'the lines of this pot say different things';
    case 'no-pot':
      return 'no pot for this line';
  }
}

/** Which columns of a long table are read, and which are not. */
function longWords(columns: TablePreview['columns']): string {
  const names = (read: boolean) =>
    columns
      .filter(({ use }) => (use.use === 'long') === read)
      .map(({ name }) => name)
      .join(', ');
  const rest = names(false);
  return `A line for every pot and measurement. Read: ${names(true)}.${rest === '' ? '' : ` Not used: ${rest}.`}`;
}

function keyOf(use: ColumnUse): string {
  return use.use === 'measurement' ? `m ${use.measurementId}` : use.use;
}

function fromKey(key: string): ColumnUse {
  if (key.startsWith('m ')) return { use: 'measurement', measurementId: key.slice(2) };
  if (key === 'pot' || key === 'mark') return { use: key };
  return { use: 'nothing' };
}

function optionsFor(plan: Plan, use: ColumnUse): { value: string; label: string }[] {
  return [
    ...(use.use === 'ambiguous'
      ? [{ value: 'ambiguous', label: 'fits several: please choose' }]
      : []),
    { value: 'nothing', label: 'not used' },
    { value: 'pot', label: 'pot code' },
    { value: 'mark', label: 'dead or missing' },
    ...measurementsInOrder(plan).map((m) => ({ value: `m ${m.id}`, label: measurementLabel(m) })),
  ];
}

const isEmpty = (list: readonly unknown[]) => list.length === 0;
