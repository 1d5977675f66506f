import {
  modelPOf,
  randomisationSentence,
  type Findings,
  type RandomisationFound,
} from '../../../engine/findings';
import type { UnitSystem } from '../../../words';
import type { Fragment } from '../../html';
import { contrastTable } from '../comparisonTables';
import { meansFigure, randomisationFigure } from '../figures';
import { otherWarnings, slopesTable, termsTable, varianceTable } from '../modelTables';
import { figureHtml, HALF, pairHtml, paragraphsHtml, tableHtml } from '../parts';
import { mainComparisons, meansTable } from '../tables';

/** Means, comparisons, terms, slopes and variances of the planned model. */
export function analysisHtml(findings: Findings, lengths: UnitSystem): Fragment {
  const tested = findings.design.tested.map((role) => role.column);
  const groups = findings.primary.result.means.filter((m) =>
    m.of.every((name) => tested.includes(name)),
  );
  return [
    groups.map(({ of }) =>
      pairHtml(
        tableHtml(meansTable(findings, of)),
        figureHtml((size) => meansFigure(findings, of, size), HALF),
      ),
    ),
    tableHtml(contrastTable(findings)),
    mainComparisons(findings).map(tableHtml),
    tableHtml(termsTable(findings)),
    tableHtml(slopesTable(findings, lengths)),
    tableHtml(varianceTable(findings)),
    paragraphsHtml(otherWarnings(findings)),
  ];
}

/** Each randomisation test that was run: its sentence and figure. */
export function randomisationHtml(
  findings: Findings,
  tests: readonly RandomisationFound[],
): Fragment {
  return tests.map((found) => [
    paragraphsHtml([randomisationSentence(found, findings.alpha, modelPOf(findings, found))]),
    figureHtml((size) => randomisationFigure(found, size)),
  ]);
}
