import type { Plan } from '../../../../shared-types/plan';
import {
  answersOf,
  sureWords,
  unbroken,
  type Answer,
  type Findings,
} from '../../../engine/findings';
import { plural } from '../../../words';
import { html, type Fragment } from '../../html';
import { plantsFigure, rackFigure } from '../figures';
import { figureHtml, listHtml } from '../parts';

/** Answers that have a card of their own on the first page, and those told in a line each. */
const CARDS = 4;
const LINES = 6;

/** What the first page opens with: each answer, and every plant that it rests on. */
export function answersHtml(plan: Plan | null, findings: Findings): Fragment {
  const answers = answersOf(findings);
  const lines = answers.slice(CARDS, CARDS + LINES).map(lineOf);
  const more = answers.length - CARDS - LINES;
  return [
    answers.length > 0 && html`<div class="answers">${answers.slice(0, CARDS).map(cardHtml)}</div>`,
    lines.length > 0 &&
      listHtml([
        ...lines,
        ...(more > 0 ? [`${plural(more, 'more answer')} under Results in words.`] : []),
      ]),
    figureHtml((size) => plantsFigure(findings, size)),
    plan && figureHtml((size) => rackFigure(plan, findings, size)),
  ];
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
