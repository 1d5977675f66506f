import { deliveredTraits } from '../../../../shared-types/delivered';
import type { Plan } from '../../../../shared-types/plan';
import { deliveredLogOf, deliveredNotices, sayDelivered, sayDriftDays } from '../../../derive';
import type { DeliveredSeries } from '../../../derive';
import { runName, seenFromEach } from '../../../document/runs';
import { capital } from '../../../words';
import type { Fragment } from '../../html';
import { numberCell, words, type FindingsTable, type ReportCell } from '../cells';
import { deliveredFigure } from '../figures';
import { figureHtml, listHtml, paragraphsHtml, tableHtml } from '../parts';

/** What units got of water and light, against what was planned; null where nothing was logged. */
export function deliveredHtml(plan: Plan): Fragment {
  const runs = seenFromEach(plan);
  return runs.map((seen, run) => {
    const { series } = deliveredLogOf(seen);
    if (series.length === 0) return null;
    const drifts = deliveredNotices(seen).map(({ text }) => text);
    const name = runs.length > 1 ? `${runName(seen)}: ` : '';
    return [
      drifts.length > 0
        ? listHtml(drifts.map((text) => `${name}${text}`))
        : paragraphsHtml([`${name}No drift was found in what was logged.`]),
      tableHtml(deliveredTable(series, name, run)),
      [...new Set(series.map(({ measure }) => measure))].map((measure) => {
        const own = series.filter((one) => one.measure === measure);
        return figureHtml((size) => deliveredFigure(own, `${name}${measure}`, size));
      }),
    ];
  });
}

function deliveredTable(
  series: readonly DeliveredSeries[],
  name: string,
  run: number,
): FindingsTable {
  return {
    name: run === 0 ? 'delivered' : `delivered-${run + 1}`,
    caption: `${name}What was delivered, by unit`,
    columns: [
      ...['Unit', 'Measure'].map((head) => ({ head })),
      ...['Days', 'Planned', 'Mean', 'Lowest', 'Highest'].map((head) => ({ head, numeric: true })),
      { head: 'Away from the plan' },
    ],
    rows: series.map(({ unit, measure, figures, setting, drift }) => {
      const values = figures.map(({ value }) => value);
      const { name: measureName, unit: sign } = deliveredTraits[measure];
      const cell = (value: number | undefined): ReportCell =>
        value === undefined
          ? numberCell(null)
          : { text: sayDelivered(measure, value, false), value };
      return [
        words(capital(unit.name)),
        words(sign ? `${measureName}, ${sign}` : measureName),
        { text: String(values.length), value: values.length },
        cell(setting?.value),
        cell(values.reduce((sum, value) => sum + value, 0) / values.length),
        cell(Math.min(...values)),
        cell(Math.max(...values)),
        words(drift ? sayDriftDays(drift) : setting ? 'no' : 'no setting'),
      ];
    }),
    note: 'Away: three or more logged days in a row off on the same side by more than a tenth for EC (at least 0.1 mS/cm) and PPFD, 0.3 for pH, 1.5 °C or a quarter of an hour. The uncertainty of computed light is allowed for besides. Between units √2 times as much is allowed.',
  };
}
