import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import {
  sentenceGroups,
  unbroken,
  type Findings,
  type RandomisationFound,
} from '../../engine/findings';
import type { UnitSystem } from '../../words';
import { html, raw, type Fragment } from '../html';
import type { Paper } from '../paper';
import { dataTable } from './dataTable';
import {
  meansFigure,
  plantsFigure,
  quantileFigure,
  residualFigure,
  sensitivityFigure,
  spreadFigure,
  type Figure,
} from './figures';
import { FIGURE, listHtml, paragraphsHtml, section, tableHtml } from './parts';
import { analysisHtml, randomisationHtml } from './sections/analysis';
import { answersHtml } from './sections/answers';
import { cautionsHtml, incidentsHtml } from './sections/cautions';
import { checksHtml } from './sections/checks';
import { growthHtml } from './sections/growth';
import { positionHtml } from './sections/position';
import { rackHtml } from './sections/rack';
import { reportCss } from './style';
import { layoutWords, methodWords, tableWords } from './words';

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

/** Columns that the code of a pot on the rack tells already. */
const IN_CODE = ['shelf', 'tray', 'row', 'column'];

/** The report as one HTML document that prints by itself; everything that it shows is in it. */
export function reportHtml(input: ReportInput): string {
  const { title, plan, findings } = input;
  const parts = [
    html`<h1>${title}</h1>`,
    plan
      ? section('Question', paragraphsHtml([plan.trial?.question || 'None was written down.']))
      : paragraphsHtml(['Findings of a table from a trial that was not planned here.']),
    section('What was found', [answersHtml(findings), wordsHtml(findings)]),
    section('Did position do it?', positionHtml(findings)),
    section('Analysis', analysisHtml(findings, lengthsOf(plan))),
    plan ? section('Over time', growthHtml(plan, findings)) : null,
    section('Randomisation test', randomisationHtml(findings, input.randomisationTests ?? [])),
    section('Checks', checksHtml(plan, findings)),
    plan ? section('Rack, light and layout', rackHtml(plan)) : null,
    section(
      'Method',
      paragraphsHtml([
        ...(plan ? layoutWords(plan) : tableWords(findings)),
        ...methodWords(findings),
      ]),
    ),
    section('Cautions', cautionsHtml(input.notices)),
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
    plantsFigure(findings, size),
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

function wordsHtml(findings: Findings): Fragment {
  return sentenceGroups(findings).map((group) => listHtml(group.map(unbroken)));
}
