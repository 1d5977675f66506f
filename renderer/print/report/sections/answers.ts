import { answersOf, sureWords, unbroken, type Findings } from '../../../engine/findings';
import { html, type Fragment } from '../../html';
import { plantsFigure } from '../figures';
import { FIGURE, figureHtml } from '../parts';

/** What the first page opens with: each answer, and every plant that it rests on. */
export function answersHtml(findings: Findings): Fragment {
  const answers = answersOf(findings);
  if (answers.length === 0) return null;
  return [
    html`<div class="answers">${answers.map(
      ({ of, headline, figure, sure, why }) => html`<div class="answer"><p class="of">${of}</p>
<p class="headline">${unbroken(headline)}</p>
${figure === '' ? null : html`<p>${unbroken(figure)}</p>`}
<p>${sure ? html`<strong>${sureWords[sure]}</strong>. ` : null}${why}</p></div>`,
    )}</div>`,
    figureHtml(plantsFigure(findings, { width: FIGURE })),
  ];
}
