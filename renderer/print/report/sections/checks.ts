import type { Findings } from '../../../engine/findings';
import type { Fragment } from '../../html';
import { quantileFigure, residualFigure, spreadFigure } from '../figures';
import { figureHtml, HALF, pairHtml, tableHtml } from '../parts';
import { potsTable } from '../tables';

/** Residuals against fitted values, as quantiles and by group, and the pots that stand out. */
export function checksHtml(findings: Findings): Fragment {
  return [
    pairHtml(
      figureHtml((size) => residualFigure(findings, size), HALF),
      figureHtml((size) => quantileFigure(findings, size), HALF),
    ),
    figureHtml((size) => spreadFigure(findings, size)),
    tableHtml(potsTable(findings)),
  ];
}
