import { POSITION_WORDS, termOf, type Findings, type PositionFit } from '../../derive';
import { figures, fixed, probability, Section, Table, type TableColumn } from '../../ui';

/** Does the answer hold? The same question under every way of allowing for position. */
export function PositionTable({ findings }: { findings: Findings }) {
  const { edge, light } = findings;
  const unit = findings.response.unit;
  const percent = `${fixed(findings.confidence * 100, 0)} %`;
  return (
    <Section title="Did position do it?" testId="position">
      <Table<PositionFit>
        caption="The same question under every way of allowing for position"
        rows={findings.positions}
        rowKey={(row) => row.model}
        isMarked={(row) => row.model === findings.primary.model}
        columns={[
          {
            key: 'model',
            head: 'Allowing for position by',
            cell: (row) =>
              `${POSITION_WORDS[row.model]}${row.model === findings.primary.model ? ' (fixed in the plan)' : ''}`,
          },
          ...findings.design.tested.flatMap((role): TableColumn<PositionFit>[] => [
            {
              key: `${role.column} difference`,
              head: `${role.factor.name}: widest difference`,
              unit,
              numeric: true,
              cell: (row) => widest(row, role.column),
            },
            {
              key: `${role.column} p`,
              head: 'p',
              numeric: true,
              cell: (row) => {
                const p = termOf(row.result, [role.column])?.p;
                return p === null || p === undefined ? '–' : probability(p);
              },
            },
          ]),
          {
            key: 'moran',
            head: 'Likeness left among neighbours',
            unit: 'Moran’s I',
            numeric: true,
            cell: (row) => {
              const i = row.result.checks['moran']?.['i'];
              return typeof i === 'number' ? fixed(i, 2) : '–';
            },
          },
        ]}
      />
      {edge ? (
        <p data-testid="edge-effect">
          <strong>
            Edge effect: {signed(edge.difference)} {unit}
          </strong>{' '}
          ({percent} interval {figures(edge.lower, 3)} to {figures(edge.upper, 3)}; edge{' '}
          {figures(edge.edgeMean, 3)}, inner {figures(edge.innerMean, 3)}; p{' '}
          {edge.p < 0.001 ? '' : '= '}
          {probability(edge.p)}).
        </p>
      ) : null}
      {light ? (
        <p data-testid="light-effect">
          <strong>
            Light effect: {signed(light.difference * 10)} {unit} per 10 µmol m⁻² s⁻¹
          </strong>{' '}
          ({percent} interval {figures(light.lower * 10, 3)} to {figures(light.upper * 10, 3)}; p{' '}
          {light.p < 0.001 ? '' : '= '}
          {probability(light.p)}).
        </p>
      ) : null}
      {findings.refused.map(({ model, reason }) => (
        <p key={model} className="field-remark">
          Not tried, {POSITION_WORDS[model]}: {reason}.
        </p>
      ))}
    </Section>
  );
}

function widest(row: PositionFit, column: string): string {
  const rows = row.result.comparisons.find((c) => c.of.length === 1 && c.of[0] === column)?.rows;
  const top = [...(rows ?? [])].sort((a, b) => Math.abs(b.difference) - Math.abs(a.difference))[0];
  return top ? figures(Math.abs(top.difference), 3) : '–';
}

function signed(value: number): string {
  return `${value > 0 ? '+' : ''}${figures(value, 3)}`;
}
