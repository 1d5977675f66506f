import type { Plan } from '../../../../shared-types/plan';
import {
  answerCards,
  remarksOf,
  sureWords,
  unbroken,
  type Answer,
  type Findings,
} from '../../../engine/findings';
import { html, type Fragment } from '../../html';
import { plantsFigure, rackFigure } from '../figures';
import { figureHtml, listHtml } from '../parts';
import { mapsHtml } from './maps';

/** What the first page opens with: the answers that matter, and every plant that they rest on. */
export function answersHtml(plan: Plan | null, findings: Findings): Fragment {
  const { first, foldedWords } = answerCards(findings);
  return [
    first.length > 0 && html`<div class="answers">${first.map(cardHtml)}</div>`,
    html`<dl class="remarks">${[
      ...remarksOf(findings),
      ...(foldedWords === '' ? [] : [{ head: 'Besides', text: `${foldedWords}.` }]),
    ].map(({ head, text }) => html`<div><dt>${head}</dt><dd>${unbroken(text)}</dd></div>`)}</dl>`,
    figureHtml((size) => plantsFigure(findings, size)),
    plan && figureHtml((size) => rackFigure(plan, findings, size)),
    plan && !hasPicture(findings) && mapsHtml(plan, findings),
  ];
}

/** Whether plants can be told apart by treatments; else the first page shows them on the rack. */
export const hasPicture = (findings: Findings): boolean =>
  plantsFigure(findings, { width: 400 }) !== null;

/** The answers that have no room on the first page, in a line each; null where all have. */
export function moreAnswersHtml(findings: Findings): Fragment {
  const { folded } = answerCards(findings);
  return folded.length > 0 && listHtml(folded.map(lineOf));
}

function cardHtml({ of, headline, figure, sure, why }: Answer): Fragment {
  return html`<div class="answer"><p class="of">${of}</p>
<p class="headline">${unbroken(headline)}</p>
${figure === '' ? null : html`<p>${unbroken(figure)}</p>`}
<p>${sure ? html`<strong class="sure">${sureWords[sure]}</strong> ` : null}${why}</p></div>`;
}

function lineOf({ of, headline, figure, sure }: Answer): string {
  const said = figure === '' ? headline : `${headline}: ${figure}`;
  return unbroken(`${of}: ${said}${sure ? ` (${sureWords[sure]})` : ''}.`);
}
