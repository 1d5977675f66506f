import type { GrowthByTreatment, GrowthRow } from '../../../derive';
import { growthTable } from '../../../print/report';
import { Swatch, Table, treatmentLook } from '../../../ui';
import { asStandardError, figures } from '../../../words';
import { TakeTable } from '../parts/TakeAway';

/** A rate with its standard error in like decimals. */
function rateWords(rate: GrowthRow['rate']): string {
  if (!rate) return '–';
  const say = asStandardError(rate.se);
  return `${say(rate.value)} ± ${say(rate.se)}`;
}

/** What the plants of each treatment gained between two dates. */
export function GrowthTable({ growth }: { growth: GrowthByTreatment }) {
  return (
    <div className="findings-table">
      <TakeTable table={growthTable(growth)} />
      <Table
        caption={`Means of ${growth.days} days; gains and rates are means of the plants’ own`}
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
            head: 'From',
            unit: growth.unit,
            numeric: true,
            cell: (row) => figures(row.start, 3),
          },
          {
            key: 'final',
            head: 'To',
            unit: growth.unit,
            numeric: true,
            cell: (row) => figures(row.final, 3),
          },
          {
            key: 'gain',
            head: 'Gain a day',
            unit: growth.unit,
            numeric: true,
            cell: (row) => figures(row.gainPerDay, 3),
          },
          {
            key: 'percent',
            head: 'Gain',
            unit: '%',
            numeric: true,
            cell: (row) => (row.percent === null ? '–' : figures(row.percent, 3)),
          },
          {
            key: 'rgr',
            head: 'Relative growth rate',
            unit: 'per day',
            numeric: true,
            cell: (row) => rateWords(row.rate),
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
    </div>
  );
}
