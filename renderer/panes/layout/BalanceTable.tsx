import { balanceOfPlan } from '../../derive';
import type { Layout } from '../../../shared-types/layout';
import type { BalanceRow } from '../../engine/trial';
import { usePlanStore } from '../../store/context';
import { DrawnBalance } from './DrawnBalance';
import { Section, Swatch, Table, treatmentLook, type TableColumn } from '../../ui';
import { fixed, percent } from '../../words';

/** How fairly light, edge and starting size fell to the treatments. */
export function BalanceTables() {
  const plan = usePlanStore((s) => s.plan);
  if (!plan) return null;
  const balance = balanceOfPlan(plan);
  if (!balance) return null;
  if (!balance.ok) return <p className="field-problem">{balance.reason}</p>;
  const { treatments, factors } = balance.value;
  const hasStart = treatments.some((row) => row.meanStart !== null);
  return (
    <Section title="Balance of the draw" testId="balance">
      {plan.layout ? <DrawnBalance plan={plan} layout={plan.layout} /> : null}
      {plan.layout ? <p className="field-remark">{lightWords(plan.layout)}</p> : null}
      {factors.map((factor) => (
        <Table<BalanceRow>
          key={factor.factorId}
          caption={`By ${factor.name}`}
          showCaption
          rows={factor.levels}
          rowKey={(row) => row.key}
          columns={columns(false, hasStart)}
        />
      ))}
      {factors.length > 1 ? (
        <Table<BalanceRow>
          caption="By treatment"
          showCaption
          rows={treatments}
          rowKey={(row) => row.key}
          columns={columns(true, hasStart)}
        />
      ) : null}
    </Section>
  );
}

const lightWords = ({ assignments }: Layout): string =>
  assignments.some(({ ppfdUmol }) => ppfdUmol !== undefined)
    ? 'PPFD is that of the draw, kept with the layout.'
    : 'PPFD is that of today: this layout was drawn before the light of a draw was kept.';

function columns(withLetter: boolean, hasStart: boolean): TableColumn<BalanceRow>[] {
  return [
    { key: 'name', head: withLetter ? 'Treatment' : 'Level', cell: (row) => <RowName row={row} /> },
    { key: 'pots', head: 'Pots', numeric: true, cell: (row) => row.pots },
    {
      key: 'ppfd',
      head: 'Mean PPFD',
      unit: 'µmol m⁻² s⁻¹',
      numeric: true,
      cell: (row) => (row.meanPpfdUmol === null ? '–' : fixed(row.meanPpfdUmol, 0)),
    },
    { key: 'edge', head: 'On the edge', numeric: true, cell: (row) => percent(row.edgeShare) },
    ...(hasStart
      ? [
          {
            key: 'start',
            head: 'Mean start',
            numeric: true,
            cell: (row: BalanceRow) => (row.meanStart === null ? '–' : fixed(row.meanStart, 2)),
          },
        ]
      : []),
  ];
}

function RowName({ row }: { row: BalanceRow }) {
  const plan = usePlanStore((s) => s.plan);
  if (!row.letter || !plan) return <>{row.name}</>;
  const balance = balanceOfPlan(plan);
  const index = balance?.ok ? balance.value.treatments.findIndex((t) => t.key === row.key) : -1;
  return (
    <span className="legend-item balance-name">
      <Swatch look={treatmentLook(Math.max(0, index))} letter={row.letter} size={18} />
      {row.name}
    </span>
  );
}
