import type { Plan } from '../../../../shared-types/plan';
import { deliveredLogOf, deliveredIn, deliveredNotices, sayDriftDays } from '../../../derive';
import type { DeliveredSeries } from '../../../derive';
import { runName, seenFromEach } from '../../../document/runs';
import { capital, fixed, type UnitSystem } from '../../../words';
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
      tableHtml(deliveredTable(series, name, run, plan.display.lengths)),
      [...new Set(series.map(({ measure }) => measure))].map((measure) => {
        const own = series.filter((one) => one.measure === measure);
        return figureHtml((size) =>
          deliveredFigure(own, `${name}${measure}`, size, plan.display.lengths),
        );
      }),
    ];
  });
}

function deliveredTable(
  series: readonly DeliveredSeries[],
  name: string,
  run: number,
  lengths: UnitSystem,
): FindingsTable {
  const { sayApart } = deliveredIn('temperature', lengths);
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
      const { head, shown, say } = deliveredIn(measure, lengths);
      const cell = (value: number | undefined): ReportCell =>
        value === undefined ? numberCell(null) : { text: say(value, false), value: shown(value) };
      return [
        words(capital(unit.name)),
        words(head),
        { text: String(values.length), value: values.length },
        cell(setting?.value),
        cell(values.reduce((sum, value) => sum + value, 0) / values.length),
        cell(Math.min(...values)),
        cell(Math.max(...values)),
        words(drift ? sayDriftDays(drift) : setting ? 'no' : 'no setting'),
      ];
    }),
    note: `Away: three or more logged days in a row off on the same side by more than a tenth for EC (at least ${fixed(0.1, 1)} mS/cm) and PPFD, ${fixed(0.3, 1)} for pH, ${sayApart(1.5)} or a quarter of an hour. The uncertainty of computed light is allowed for besides. Between units √2 times as much is allowed.`,
  };
}
