import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import {
  sentenceGroups,
  unbroken,
  type Findings,
  type RandomisationFound,
} from '../../engine/findings';
import { html, raw, type Fragment, type Html } from '../html';
import type { Paper } from '../paper';
import {
  meansFigure,
  plantsFigure,
  quantileFigure,
  rackFigure,
  residualFigure,
  sensitivityFigure,
  spreadFigure,
  type Figure,
} from './figures';
import { reportFiles, type ReportFile } from './files';
import { FIGURE, fileLink, idOf, listHtml, paragraphsHtml, section } from './parts';
import { analysisHtml, randomisationHtml } from './sections/analysis';
import { answersHtml, hasPicture, moreAnswersHtml } from './sections/answers';
import { cautionsHtml, incidentsHtml } from './sections/cautions';
import { checksHtml } from './sections/checks';
import { deliveredHtml } from './sections/delivered';
import { entriesHtml } from './sections/entries';
import { growthHtml } from './sections/growth';
import { mapsHtml } from './sections/maps';
import { positionHtml } from './sections/position';
import { setUpHtml } from './setUp';
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

/** Letters of a question that the first page has room for. */
const QUESTION = 420;

/** The report as one HTML document that prints by itself; everything that it shows is in it. */
export function reportHtml(input: ReportInput): string {
  const { title, plan, findings } = input;
  const files = reportFiles(input);
  const pictured = hasPicture(findings);
  const parts: [string, Fragment][] = [
    ['Set-up', plan && setUpHtml(plan)],
    [
      'Method',
      paragraphsHtml([
        ...(plan ? layoutWords(plan) : tableWords(findings)),
        ...methodWords(findings),
      ]),
    ],
    ['Data', filesHtml(files)],
    ['Results in words', [moreAnswersHtml(findings), wordsHtml(findings)]],
    ['Results in figures', analysisHtml(findings, plan?.display.lengths ?? 'metric')],
    ['Did position do it?', positionHtml(findings)],
    ['Over time', plan && growthHtml(plan, findings)],
    ['Randomisation test', randomisationHtml(findings, input.randomisationTests ?? [])],
    ['Checks', checksHtml(findings)],
    ['The rack, pot by pot', plan && pictured && mapsHtml(plan, findings)],
    ['Who entered the values', plan && entriesHtml(plan)],
    ['What was delivered', plan && deliveredHtml(plan)],
    ['Cautions', cautionsHtml(input.notices)],
    [plan ? 'Incidents and pots left out' : 'Pots left out', incidentsHtml(plan, findings)],
  ];
  const sections = parts.flatMap(([name, content]) => {
    const made = section(name, content);
    return made ? [{ name, made }] : [];
  });
  return html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${title} – report</title>
<style>${raw(reportCss(input.paper))}</style></head>
<body><main><div class="${pictured ? 'first' : 'opening'}"><h1>${title}</h1>
${questionHtml(plan)}
${section('What was found', answersHtml(plan, findings))}</div>
${contentsHtml(sections.map(({ name }) => name))}
${sections.map(({ made }) => made)}</main></body></html>
`.markup;
}

function questionHtml(plan: Plan | null): Html {
  if (!plan) {
    return html`<p class="question">Findings of a table from a trial that was not planned here.</p>`;
  }
  const question = plan.trial?.question || 'No question was written down.';
  const short =
    question.length > QUESTION ? `${question.slice(0, QUESTION).trimEnd()} …` : question;
  return html`<p class="question">${unbroken(short)}</p>`;
}

/** On a screen alone: paper has page numbers, and a PDF its bookmarks. */
function contentsHtml(names: readonly string[]): Html {
  return html`<nav aria-label="Contents"><ul>${names.map((name) => html`<li><a href="#${idOf(name)}">${name}</a></li>`)}</ul></nav>`;
}

function wordsHtml(findings: Findings): Fragment {
  return sentenceGroups(findings).map((group) => listHtml(group.map(unbroken)));
}

function filesHtml(files: readonly ReportFile[]): Fragment {
  return html`<p class="files">The figures behind this report go with it as files, attached to the PDF that Evenrack saves and linked in the HTML page: ${files.map(
    ({ name, type, text, about }, i) =>
      html`<strong class="on-paper">${name}</strong>${fileLink(name, type, text, name)} (${about})${i < files.length - 1 ? ', ' : '.'}`,
  )}</p>`;
}

/** The figures of the findings, each to be a file of its own. */
export function reportFigures(plan: Plan | null, findings: Findings): Figure[] {
  const size = { width: FIGURE };
  const tested = findings.design.tested.map((role) => role.column);
  return [
    plantsFigure(findings, size),
    plan && rackFigure(plan, findings, size),
    sensitivityFigure(findings, size),
    ...findings.primary.result.means
      .filter((m) => m.of.every((name) => tested.includes(name)))
      .map(({ of }) => meansFigure(findings, of, size)),
    residualFigure(findings, size),
    quantileFigure(findings, size),
    spreadFigure(findings, size),
  ].filter((figure) => figure !== null);
}
