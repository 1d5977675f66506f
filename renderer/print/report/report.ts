import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import {
  datesOf,
  findingsInputOf,
  growthBetween,
  placedPotsOf,
  lightOverTrialOf,
  ppfdByPotOf,
  treatmentsOfPlan,
  type GrowthRow,
} from '../../derive';
import {
  anyModelWords,
  criterionBasis,
  modelPOf,
  randomisationSentence,
  sensitivityOf,
  sentenceGroups,
  unbroken,
  type Findings,
  type RandomisationFound,
  type Series,
  growthSeries,
} from '../../engine/findings';
import { doublingTimeDays } from '../../engine/growth';
import { drawnRows } from './figures/sensitivity';
import { html, raw, type Fragment, type Html } from '../html';
import type { Paper } from '../paper';
import {
  meansFigure,
  quantileFigure,
  randomisationFigure,
  residualFigure,
  sensitivityFigure,
  seriesFigure,
  spreadFigure,
  type Figure,
} from './figures';
import { numberCell, words, type ReportCell, type FindingsTable } from './cells';
import { contrastTable } from './comparisonTables';
import { dataTable } from './dataTable';
import { plantsTable } from './plantsTable';
import { slopesTable, termsTable, varianceTable } from './modelTables';
import { matrixWords, positionMatrix } from './positionMatrix';
import { effectsTable, positionTable } from './positionTables';
import { rackMap } from './rackMap';
import { reportCss } from './style';
import { mainComparisons, meansTable, potsTable } from './tables';
import { layoutWords, methodWords, tableWords } from './words';
import { asStandardError, fixed, said, unlessRefused, type UnitSystem } from '../../words';

export interface ReportInput {
  title: string;
  /** null: the findings are of a table that came from elsewhere. */
  plan: Plan | null;
  findings: Findings;
  /** All notices, with the reasons of those that were accepted. */
  notices: readonly Notice[];
  paper: Paper;
  randomisationTests?: readonly RandomisationFound[];
}

/** Words up to so many letters are kept in one line, where a line of the page holds them all. */
const KEPT = 40;
const LINE = 125;

/** A table of so many rows is kept on one page. */
const SHORT = 14;

/** Cautions of one kind that are printed in full. */
const MOST_ALIKE = 5;

/** Pairs of levels that are printed under all models; of more, those of the figure. */
const MOST_PAIRS = 24;

/** Columns that the code of a pot on the rack tells already. */
const IN_CODE = ['shelf', 'tray', 'row', 'column'];

/** Width of a figure in the report, px at 96 an inch; the page is about 700 wide. */
const FIGURE = 640;

/** The report as one HTML document that prints by itself; everything that it shows is in it. */
export function reportHtml(input: ReportInput): string {
  const { title, plan, findings } = input;
  const parts = [
    html`<h1>${title}</h1>`,
    plan
      ? section('Question', paragraphs([plan.trial?.question || 'None was written down.']))
      : paragraphs(['Findings of a table from a trial that was not planned here.']),
    section('What was found', wordsHtml(findings)),
    section('Did position do it?', positionHtml(findings)),
    section('Analysis', analysisHtml(findings, lengthsOf(plan))),
    plan ? section('Over time', growthHtml(plan, findings)) : null,
    section('Randomisation test', randomisationHtml(input)),
    section('Checks', checksHtml(plan, findings)),
    plan ? section('Rack, light and layout', rackHtml(plan)) : null,
    section(
      'Method',
      paragraphs([...(plan ? layoutWords(plan) : tableWords(findings)), ...methodWords(findings)]),
    ),
    section('Cautions', cautionsHtml(input)),
    section(plan ? 'Incidents and pots left out' : 'Pots left out', incidentsHtml(plan, findings)),
    section('Data', tableHtml(dataTable(title, findings, lengthsOf(plan), plan ? IN_CODE : []))),
  ];
  return html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${title} – report</title>
<style>${raw(reportCss(input.paper))}</style></head>
<body>${parts}</body></html>
`.markup;
}

/** The figures of the findings, each to be a file of its own. */
export function reportFigures(findings: Findings): Figure[] {
  const size = { width: FIGURE };
  const tested = findings.design.tested.map((role) => role.column);
  return [
    sensitivityFigure(findings, size),
    ...findings.primary.result.means
      .filter((m) => m.of.every((name) => tested.includes(name)))
      .map(({ of }) => meansFigure(findings, of, size)),
    residualFigure(findings, size),
    quantileFigure(findings, size),
    spreadFigure(findings, size),
  ].filter((figure) => figure !== null);
}

/** A table from elsewhere has no system of units of its own. */
function lengthsOf(plan: Plan | null): UnitSystem {
  return plan?.display.lengths ?? 'metric';
}

/** null where there is nothing to say under the title. */
function section(title: string, content: Fragment): Html | null {
  const inner = html`${content}`;
  return inner.markup === ''
    ? null
    : html`<section><h2>${title}</h2>${inner}</section>
`;
}

function paragraphs(texts: readonly string[]): Fragment {
  return texts.map((text) => html`<p>${unbroken(text)}</p>`);
}

function figureHtml(figure: Figure | null): Html | null {
  if (!figure) return null;
  return html`<figure>${raw(figure.svg)}<figcaption>${figure.label}</figcaption></figure>`;
}

/** Whether there is room to keep short words of every column in one line. */
function keepsWords({ columns, rows }: FindingsTable): boolean {
  const widths = columns.map(({ head }, k) => {
    const longest = Math.max(...rows.map((cells) => cells[k]?.text.length ?? 0));
    return Math.max(head.length, Math.min(longest, KEPT));
  });
  return widths.reduce((sum, width) => sum + width, 0) <= LINE;
}

function tableHtml(table: FindingsTable | null): Html | null {
  if (!table || table.rows.length === 0) return null;
  const numeric = html` class="n"`;
  const head = table.columns.map(
    (c) =>
      html`<th scope="col"${c.numeric ? numeric : null}>${c.head}${c.unit ? html`<span class="unit">${c.unit}</span>` : null}</th>`,
  );
  const kept = keepsWords(table) && html` class="w"`;
  const rows = table.rows.map((cells, i) => {
    const inner = cells.map((cell, k) => {
      const text = [
        cell.strong ? html`<strong>${cell.text}</strong>` : cell.text,
        [cell.under, cell.mark].map((line) =>
          line ? html`<span class="under">${line}</span>` : null,
        ),
      ];
      const look = table.columns[k]?.numeric ? numeric : cell.text.length <= KEPT && kept;
      return k === 0 ? html`<th scope="row"${look}>${text}</th>` : html`<td${look}>${text}</td>`;
    });
    return html`<tr${i === table.marked && html` class="marked"`}>${inner}</tr>`;
  });
  const short = table.rows.length <= SHORT && html` class="short"`;
  return html`<table${short}><caption>${table.caption}</caption><thead><tr>${head}</tr></thead><tbody>${rows}</tbody></table>${table.note ? paragraphs([table.note]) : null}`;
}

function wordsHtml(findings: Findings): Fragment {
  return sentenceGroups(findings).map((group) => listHtml(group.map(unbroken)));
}

function listHtml(items: readonly string[]): Html {
  return html`<ul>${items.map((item) => html`<li>${item}</li>`)}</ul>`;
}

function positionHtml(findings: Findings): Fragment {
  const drawn = drawnRows(findings);
  const all = sensitivityOf(findings);
  const matrix = positionMatrix(findings, all.length <= MOST_PAIRS ? all : drawn);
  return [
    tableHtml(matrix),
    matrix &&
      paragraphs([
        ...matrixWords(findings),
        anyModelWords(),
        ...(all.length > MOST_PAIRS ? ['All pairs of levels are in the file of tables.'] : []),
      ]),
    tableHtml(effectsTable(findings)),
    figureHtml(sensitivityFigure(findings, { width: FIGURE })),
    tableHtml(positionTable(findings)),
    paragraphs([criterionBasis(findings.scale)]),
  ];
}

function analysisHtml(findings: Findings, lengths: UnitSystem): Fragment {
  const tested = findings.design.tested.map((role) => role.column);
  const groups = findings.primary.result.means.filter((m) =>
    m.of.every((name) => tested.includes(name)),
  );
  return [
    tableHtml(termsTable(findings)),
    tableHtml(slopesTable(findings, lengths)),
    tableHtml(varianceTable(findings)),
    paragraphs(findings.primary.result.warnings),
    groups.map(({ of }) => [
      figureHtml(meansFigure(findings, of, { width: FIGURE })),
      tableHtml(meansTable(findings, of)),
    ]),
    tableHtml(contrastTable(findings)),
    mainComparisons(findings).map(tableHtml),
  ];
}

function growthHtml(plan: Plan, findings: Findings): Fragment {
  const dates = datesOf(plan, findings.question.measurement);
  const [first, last] = [dates[0], dates.at(-1)];
  const series = seriesOfPlan(plan, findings);
  const growth = first && last ? growthBetween(plan, first.id, last.id) : null;
  if (!growth) return null;
  const table: FindingsTable = {
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
  return [
    series && figureHtml(seriesFigure(series, { width: FIGURE })),
    tableHtml(table),
    paragraphs(series ? [series.method] : []),
  ];
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

function randomisationHtml({ randomisationTests = [], findings }: ReportInput): Fragment {
  return randomisationTests.map((found) => [
    paragraphs([randomisationSentence(found, findings.alpha, modelPOf(findings, found))]),
    figureHtml(randomisationFigure(found, { width: FIGURE })),
  ]);
}

function checksHtml(plan: Plan | null, findings: Findings): Fragment {
  const map =
    plan &&
    rackMap(plan, 'Residuals', (id) => {
      const residual = findings.residuals.get(id);
      if (residual === undefined) return null;
      const sign = residual >= 0.05 ? '+' : residual <= -0.05 ? '−' : '';
      return { text: `${sign}${fixed(Math.abs(residual), 1)}`, grey: Math.abs(residual) / 4 };
    });
  const half = { width: FIGURE / 2 };
  return [
    html`<div class="pair">${figureHtml(residualFigure(findings, half))}${figureHtml(quantileFigure(findings, half))}</div>`,
    figureHtml(spreadFigure(findings, { width: FIGURE })),
    tableHtml(potsTable(findings)),
    map && html`<p>Residuals where the pots stand, in standard deviations:</p>${map}`,
  ];
}

function rackHtml(plan: Plan): Fragment {
  const placed = placedPotsOf(plan);
  const ppfd = ppfdByPotOf(plan);
  const treatments = treatmentsOfPlan(plan);
  const values = [...ppfd.values()];
  const most = Math.max(...values);
  const key =
    treatments.length > 0
      ? tableHtml({
          name: 'key',
          caption: 'Treatments',
          columns: [{ head: 'Letter' }, { head: 'Treatment' }],
          rows: treatments.map((t) => [words(t.letter), words(t.name)]),
        })
      : null;
  const layout =
    placed.size > 0
      ? rackMap(plan, 'Layout', (id) => {
          const letter = placed.get(id)?.treatment?.letter;
          return letter ? { text: letter, grey: 0 } : null;
        })
      : null;
  const light =
    values.length > 0 && most > 0
      ? [
          paragraphs([
            `Light at the pots, PPFD in µmol m⁻² s⁻¹: mean ${said(values.reduce((a, b) => a + b, 0) / values.length)}, ${said(Math.min(...values))} to ${said(most)}. ${plan.light.readings.length > 0 ? `${plan.light.readings.length} meter readings are in the plan.` : 'It is an estimate; no meter readings are in the plan.'}`,
            ...rotaWords(plan),
          ]),
          rackMap(plan, 'Light', (id) => {
            const value = ppfd.get(id);
            return value === undefined
              ? null
              : { text: fixed(value, 0), grey: 0.6 * (1 - value / most) };
          }),
        ]
      : null;
  return [key, layout, light];
}

/** The light that the pots had in all, where the trays were moved by a rota. */
function rotaWords(plan: Plan): string[] {
  const overTrial = lightOverTrialOf(plan);
  if (!overTrial) return [];
  if (!overTrial.ok) {
    return [`The rota of tray moves does not fit the rack (${overTrial.reason}).`];
  }
  const { days, rotated } = overTrial.value;
  if (!rotated) return [];
  return [
    `That is the light where the trays were drawn. They were moved by a rota: over the ${days} days of the trial the mean at the pots was ${said(rotated.mean)}, ${said(rotated.min)} to ${said(rotated.max)}.`,
  ];
}

function cautionsHtml({ notices }: ReportInput): Fragment {
  const open = notices.filter((n) => n.accepted === undefined && n.severity !== 'note');
  const accepted = notices.filter((n) => n.accepted !== undefined);
  return [
    open.length > 0
      ? listHtml(
          sampled(open).map((n) =>
            typeof n === 'string'
              ? n
              : `${n.severity === 'stop' ? 'Not to be relied on: ' : ''}${n.text}`,
          ),
        )
      : paragraphs(['No notice stands open.']),
    accepted.length > 0 &&
      html`<p>Accepted, with the reason given:</p>${listHtml(accepted.map((n) => `${n.text} Accepted because: ${n.accepted ?? ''}`))}`,
  ];
}

/** A few notices of each kind, and how many more there are of it. */
function sampled(notices: readonly Notice[]): (Notice | string)[] {
  const kinds = [...new Set(notices.map((n) => n.kind))];
  return kinds.flatMap((kind) => {
    const own = notices.filter((n) => n.kind === kind);
    const more = own.length - MOST_ALIKE;
    if (more <= 1) return own;
    return [...own.slice(0, MOST_ALIKE), `… and ${more} more of this kind.`];
  });
}

function incidentsHtml(plan: Plan | null, findings: Findings): Fragment {
  const incidents = [...(plan?.records.incidents ?? [])].sort((a, b) =>
    a.date.localeCompare(b.date),
  );
  const left = findings.leftOut.map(({ pot, why }) => {
    const mark = plan?.records.marks[pot.id];
    const reason = mark?.reason ? `: ${mark.reason}` : '';
    return `${pot.code}, ${why.replace('-', ' ')}${mark?.date ? ` ${mark.date}` : ''}${reason}`;
  });
  return [
    incidents.length > 0
      ? listHtml(incidents.map((i) => `${i.date}: ${i.text}`))
      : paragraphs(plan ? ['No incident was logged.'] : []),
    paragraphs([
      left.length > 0
        ? `Pots left out of the analysis: ${left.join('; ')}.`
        : 'No pot was left out.',
    ]),
    tableHtml(plantsTable(findings)),
  ];
}
