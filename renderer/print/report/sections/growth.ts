import type { Plan } from '../../../../shared-types/plan';
import {
  datesOf,
  findingsInputOf,
  growthBetween,
  type GrowthByTreatment,
  type GrowthRow,
} from '../../../derive';
import {
  growthSeries,
  paceOf,
  paceWords,
  seriesScaleWords,
  type Findings,
  type Series,
} from '../../../engine/findings';
import { doublingTimeDays } from '../../../engine/growth';
import { asStandardError, unlessRefused } from '../../../words';
import type { Fragment } from '../../html';
import { numberCell, words, type FindingsTable, type ReportCell } from '../cells';
import { seriesFigure } from '../figures';
import { figureHtml, paragraphsHtml, tableHtml } from '../parts';

/** Growth from the first to the last date of the measurement; null where there are not two. */
export function growthHtml(plan: Plan, findings: Findings): Fragment {
  const dates = datesOf(plan, findings.question.measurement);
  const [first, last] = [dates[0], dates.at(-1)];
  const series = seriesOfPlan(plan, findings);
  const input = findingsInputOf(plan);
  const pace = input && paceOf(input, findings.question.measurement, findings.confidence);
  const growth = first && last ? growthBetween(plan, first.id, last.id) : null;
  if (!growth) return null;
  return [
    series && figureHtml((size) => seriesFigure(series, size)),
    tableHtml(growthTable(growth)),
    paragraphsHtml([
      ...(pace ? paceWords(pace) : []),
      ...(series ? [seriesScaleWords(series), series.method] : []),
    ]),
  ];
}

/** Means of each treatment at two dates, and what they grew between them. */
export function growthTable(growth: GrowthByTreatment): FindingsTable {
  return {
    name: 'growth',
    caption: `Means of ${growth.days} days; gains and rates are means of the plants’ own`,
    columns: [
      { head: 'Treatment' },
      { head: 'Pots', numeric: true },
      { head: 'From', unit: growth.unit, numeric: true },
      { head: 'To', unit: growth.unit, numeric: true },
      { head: 'Gain a day', unit: growth.unit, numeric: true },
      { head: 'Gain', unit: '%', numeric: true },
      { head: 'Relative growth rate', unit: 'per day', numeric: true },
      { head: 'SE', numeric: true },
      { head: 'Doubling', unit: 'days', numeric: true },
    ],
    rows: growth.rows.map((row) => [
      words(row.letter ? `${row.letter}: ${row.name}` : row.name),
      { text: String(row.pots), value: row.pots },
      numberCell(row.start),
      numberCell(row.final),
      numberCell(row.gainPerDay),
      numberCell(row.percent),
      ...rateCells(row.rate),
      numberCell(row.rate && row.rate.value > 0 ? doublingTimeDays(row.rate.value) : null),
    ]),
  };
}

/** A rate and its standard error in like decimals. */
function rateCells(rate: GrowthRow['rate']): [ReportCell, ReportCell] {
  if (!rate) return [numberCell(null), numberCell(null)];
  const say = asStandardError(rate.se);
  return [
    { text: say(rate.value), value: rate.value },
    { text: say(rate.se), value: rate.se },
  ];
}

function seriesOfPlan(plan: Plan, findings: Findings): Series | null {
  const input = findingsInputOf(plan);
  if (!input) return null;
  // The figure is left out where the dates do not bear a model; the table of means stands.
  return unlessRefused(() =>
    growthSeries(input, findings.question.measurement, findings.confidence),
  );
}
