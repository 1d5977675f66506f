import type { Plan } from '../../../../shared-types/plan';
import type { Findings } from '../../../engine/findings';
import { fixed } from '../../../words';
import { html, type Fragment } from '../../html';
import { quantileFigure, residualFigure, spreadFigure } from '../figures';
import { FIGURE, figureHtml, tableHtml } from '../parts';
import { rackMap } from '../rackMap';
import { potsTable } from '../tables';

/** Residuals: against fitted values, as quantiles, by group, and on the rack. */
export function checksHtml(plan: Plan | null, findings: Findings): Fragment {
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
