import {
  anyModelWords,
  criterionBasis,
  sensitivityOf,
  type Findings,
} from '../../../engine/findings';
import type { Fragment } from '../../html';
import { sensitivityFigure } from '../figures';
import { drawnRows } from '../figures/sensitivity';
import { figureHtml, paragraphsHtml, tableHtml } from '../parts';
import { matrixWords, positionMatrix } from '../positionMatrix';
import { effectsTable, positionTable } from '../positionTables';

/** Pairs of levels that are printed under all models; of more, those of the figure. */
const MOST_PAIRS = 24;

/** What every way of allowing for position says. */
export function positionHtml(findings: Findings): Fragment {
  const drawn = drawnRows(findings);
  const all = sensitivityOf(findings);
  const matrix = positionMatrix(findings, all.length <= MOST_PAIRS ? all : drawn);
  return [
    tableHtml(matrix),
    matrix &&
      paragraphsHtml([
        ...matrixWords(findings),
        anyModelWords(),
        ...(all.length > MOST_PAIRS ? ['All pairs of levels are in the file of tables.'] : []),
      ]),
    tableHtml(effectsTable(findings)),
    tableHtml(positionTable(findings)),
    paragraphsHtml([criterionBasis(findings.scale)]),
    findings.positions.length > 1 && figureHtml((size) => sensitivityFigure(findings, size)),
  ];
}
