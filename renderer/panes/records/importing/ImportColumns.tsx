import type { Plan } from '../../../../shared-types/plan';
import { Problem, Table } from '../../../ui';
import type { ColumnUse } from '../../../document/records';
import { choiceOf, fromKey, longWords, optionsFor, whatMatrixBrings } from './columnUses';
import type { FoundTable, ImportState } from './useImport';

const SAMPLES = 3;

interface ColumnRow {
  at: number;
  name: string;
  use: ColumnUse;
  /** Its first texts. */
  holds: string;
  asked: boolean;
}

/** What each column is read as; in a long table the names of the columns have said it. */
export function ImportColumns(props: {
  plan: Plan;
  found: FoundTable;
  onUse: ImportState['useColumn'];
}) {
  const { plan, found } = props;
  const { preview } = found;
  const asked = found.matched.questions.flatMap(({ column }) => column ?? []);
  const rows = preview.columns.flatMap(({ name, use }, at): ColumnRow[] =>
    use.use === 'long' || preview.form !== 'wide'
      ? []
      : [{ at, name, use, holds: firstTexts(found, at), asked: asked.includes(at) }],
  );
  return (
    <>
      <Problem text={preview.problem} />
      {preview.form === 'long' ? (
        <p data-testid="import-long">{longWords(preview.columns)}</p>
      ) : null}
      {preview.form === 'matrix' ? <p>{whatMatrixBrings(plan, preview.columns)}</p> : null}
      {rows.length > 0 ? (
        <Table
          caption="What the columns hold"
          testId="import-columns"
          rows={rows}
          rowKey={({ at, name }) => `${at} ${name}`}
          isMarked={(row) => row.asked}
          columns={[
            { key: 'name', head: 'Column', cell: ({ name }) => name },
            { key: 'holds', head: 'Begins with', cell: ({ holds }) => holds },
            {
              key: 'use',
              head: 'Read as',
              cell: (row) => <UseSelect {...{ plan, row }} onUse={props.onUse} />,
            },
          ]}
        />
      ) : null}
    </>
  );
}

function UseSelect(props: { plan: Plan; row: ColumnRow; onUse: ImportState['useColumn'] }) {
  const { at, name, use, asked } = props.row;
  return (
    <select
      className="input"
      aria-label={`Column “${name}”`}
      aria-invalid={asked ? true : undefined}
      value={asked ? 'ask' : choiceOf(use)}
      onChange={({ target }) => {
        if (target.value !== 'ask') props.onUse(at, fromKey(target.value, use));
      }}
    >
      {asked ? <option value="ask">please choose</option> : null}
      {optionsFor(props.plan, use).map(({ value, label }) => (
        <option key={value} value={value}>
          {label}
        </option>
      ))}
    </select>
  );
}

function firstTexts({ matched }: FoundTable, column: number): string {
  const texts = (matched.shape?.table.rows ?? []).flatMap(({ cells }) => {
    const text = cells[column]?.trim() ?? '';
    return text === '' ? [] : [text];
  });
  return texts.slice(0, SAMPLES).join(' · ');
}
