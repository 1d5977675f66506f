import type { Plan } from '../../../shared-types/plan';
import { growthByTreatment } from '../../derive';
import { figures, Section, Swatch, Table, treatmentLook } from '../../ui';

/** Growth of each treatment from start to harvest, as it was recorded. */
export function GrowthTable({ plan, measurementId }: { plan: Plan; measurementId: string }) {
  const growth = growthByTreatment(plan, measurementId);
  if (!growth) return null;
  return (
    <Section title="Growth from start to harvest" testId="growth">
      <Table
        caption={`Recorded means over ${growth.days} days; growth rate from means of logarithms`}
        showCaption
        rows={growth.rows}
        rowKey={(row) => row.key}
        columns={[
          {
            key: 'name',
            head: 'Treatment',
            cell: (row) => (
              <span className="legend-item">
                {row.letter ? (
                  <Swatch look={treatmentLook(row.index)} letter={row.letter} size={18} />
                ) : null}
                {row.name}
              </span>
            ),
          },
          { key: 'n', head: 'Pots', numeric: true, cell: (row) => row.pots },
          {
            key: 'start',
            head: 'Start',
            unit: growth.unit,
            numeric: true,
            cell: (row) => figures(row.start, 3),
          },
          {
            key: 'final',
            head: 'Harvest',
            unit: growth.unit,
            numeric: true,
            cell: (row) => figures(row.final, 3),
          },
          {
            key: 'gain',
            head: 'Gain',
            unit: growth.unit,
            numeric: true,
            cell: (row) => figures(row.final - row.start, 3),
          },
          {
            key: 'rgr',
            head: 'Relative growth rate',
            unit: 'per day',
            numeric: true,
            cell: (row) =>
              row.rate ? `${figures(row.rate.value, 3)} ± ${figures(row.rate.se, 2)}` : '–',
          },
          {
            key: 'doubling',
            head: 'Doubling',
            unit: 'days',
            numeric: true,
            cell: (row) =>
              row.rate && row.rate.value > 0 ? figures(Math.LN2 / row.rate.value, 3) : '–',
          },
        ]}
      />
    </Section>
  );
}
