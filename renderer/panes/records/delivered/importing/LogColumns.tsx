import { deliveredMeasures, deliveredTraits } from '../../../../../shared-types/delivered';
import type { Plan } from '../../../../../shared-types/plan';
import {
  measureSigns,
  type LogColumn,
  type LogPreview,
  type LogUse,
} from '../../../../document/delivered';
import { deliveredUnits } from '../../../../document/queries';
import { Table } from '../../../../ui';
import { capital, plural } from '../../../../words';
import type { LogImport } from './useLogImport';

const SAMPLES = 3;

interface ColumnRow extends LogColumn {
  at: number;
  holds: string;
  asked: boolean;
}

/** What each column of a logger's table is read as. */
export function LogColumns(props: { preview: LogPreview; onUse: LogImport['useColumn'] }) {
  const { shape, questions } = props.preview;
  const asked = questions.flatMap(({ column }) => column ?? []);
  const rows = shape.columns.map((column, at): ColumnRow => {
    const texts = shape.rows.flatMap(({ cells }) => cells[at]?.trim() || []);
    const holds = [...new Set(texts.slice(0, 100))].slice(0, SAMPLES).join(' · ');
    return { ...column, at, holds, asked: asked.includes(at) };
  });
  return (
    <Table
      caption="What the columns hold"
      testId="log-columns"
      rows={rows}
      rowKey={({ at }) => String(at)}
      isMarked={(row) => row.asked}
      columns={[
        { key: 'name', head: 'Column', cell: ({ name }) => name },
        { key: 'holds', head: 'Begins with', cell: ({ holds }) => holds },
        {
          key: 'use',
          head: 'Read as',
          cell: (row) => <UseSelect row={row} onUse={props.onUse} />,
        },
      ]}
    />
  );
}

function UseSelect({ row, onUse }: { row: ColumnRow; onUse: LogImport['useColumn'] }) {
  return (
    <select
      className="input"
      aria-label={`Column “${row.name}”`}
      aria-invalid={row.asked ? true : undefined}
      value={row.asked ? 'ask' : keyOf(row.use)}
      onChange={({ target }) => {
        const use = choices.find(({ key }) => key === target.value)?.use;
        if (use) onUse(row.at, use);
      }}
    >
      {row.asked ? <option value="ask">please choose</option> : null}
      {choices.map(({ key, label }) => (
        <option key={key} value={key}>
          {label}
        </option>
      ))}
    </select>
  );
}

/** A unit that the head leaves open is the measure's own. */
const keyOf = (use: LogUse): string =>
  use.use === 'figure'
    ? `${use.measure} ${use.sign ?? measureSigns[use.measure][0]?.sign ?? ''}`
    : use.use;

const parts: Record<Exclude<LogUse['use'], 'figure'>, string> = {
  nothing: 'not used',
  day: 'day',
  time: 'time of day: not used',
  unit: 'reservoir, shelf, bay or tray',
  measure: 'what was measured',
  value: 'figure of what was measured',
  sign: 'unit of the figure',
};

const choices: readonly { key: string; label: string; use: LogUse }[] = [
  ...deliveredMeasures.flatMap((measure) =>
    measureSigns[measure].map(({ sign }) => ({
      key: `${measure} ${sign}`,
      label: [deliveredTraits[measure].name, sign].filter(Boolean).join(', '),
      use: { use: 'figure' as const, measure, sign, name: '' },
    })),
  ),
  ...(['nothing', 'day', 'time', 'unit', 'measure', 'value', 'sign'] as const).map((use) => ({
    key: use,
    label: parts[use],
    use: { use },
  })),
];

/** Which unit of the rack each name of the table is. */
export function LogUnits(props: { plan: Plan; preview: LogPreview; onUnit: LogImport['useUnit'] }) {
  const { units } = props.preview;
  if (units.length === 0) return null;
  const options = deliveredUnits(props.plan);
  return (
    <Table
      caption="Units as the table calls them"
      testId="log-units"
      rows={units}
      rowKey={({ name }) => name}
      isMarked={({ unitId }) => unitId === undefined}
      columns={[
        { key: 'name', head: 'Called', cell: ({ name }) => capital(name) || 'not named' },
        { key: 'cells', head: 'Holds', cell: ({ cells }) => plural(cells, 'figure') },
        {
          key: 'unit',
          head: 'Is',
          cell: ({ name, unitId }) => (
            <select
              className="input"
              aria-label={`Unit ${name === '' ? 'of lines without one' : `“${name}”`}`}
              aria-invalid={unitId === undefined ? true : undefined}
              value={unitId === undefined ? 'ask' : (unitId ?? '')}
              onChange={({ target }) => {
                if (target.value !== 'ask') props.onUnit(name, target.value || null);
              }}
            >
              {unitId === undefined ? <option value="ask">please choose</option> : null}
              {options.map(({ id, name: called }) => (
                <option key={id} value={id}>
                  {capital(called)}
                </option>
              ))}
              <option value="">not used</option>
            </select>
          ),
        },
      ]}
    />
  );
}
