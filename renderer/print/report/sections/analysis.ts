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
import { comparisonsOf, meansTable } from '../tables';

/** Means and comparisons factor by factor, then combined means, and what the model is made of. */
export function analysisHtml(findings: Findings, lengths: UnitSystem): Fragment {
  const { tested } = findings.design;
  const columns = tested.map((role) => role.column);
  const combined = findings.primary.result.means.filter(
    ({ of }) => of.length > 1 && of.every((name) => columns.includes(name)),
  );
  return [
    tested.map((role) => [
      meansHtml(findings, [role.column]),
      comparisonsOf(findings, role).map(tableHtml),
    ]),
    tableHtml(contrastTable(findings)),
    combined.map(({ of }) => meansHtml(findings, of)),
    tableHtml(termsTable(findings)),
    tableHtml(slopesTable(findings, lengths)),
    tableHtml(varianceTable(findings)),
    paragraphsHtml(otherWarnings(findings)),
  ];
}

const meansHtml = (findings: Findings, of: readonly string[]): Fragment =>
  pairHtml(
    tableHtml(meansTable(findings, of)),
    figureHtml((size) => meansFigure(findings, of, size), HALF),
  );

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
