import { useCallback, useState } from 'react';
import { methodOf, POSITION_TERMS, positionWords, type Findings } from '../../../engine/findings';
import {
  meansFigure,
  meansTable,
  otherWarnings,
  plantsTable,
  slopesTable,
  termsTable,
  varianceTable,
  type FigureSize,
} from '../../../print/report';
import { usePlanStore } from '../../../store/context';
import { Segmented } from '../../../ui';
import { FigureView } from '../parts/FigureView';
import { FoldedPart } from '../parts/FoldedPart';
import { analysisSummary } from '../parts/summaries';
import { TableView } from '../parts/TableView';

/** What the variation goes with, and the adjusted means, also by level of another factor. */
export function AnalysisSection({ findings }: { findings: Findings }) {
  const lengths = usePlanStore((s) => s.plan?.display.lengths ?? 'metric');
  const { result, model } = findings.primary;
  const tested = findings.design.tested.map((role) => role.column);
  const choices = result.means.filter((m) => m.of.every((name) => tested.includes(name)));
  const [asked, setAsked] = useState<string | null>(null);
  const key = (of: readonly string[]) => of.join(' by ');
  const chosen = choices.find((m) => key(m.of) === asked) ?? choices[0];
  const of = key(chosen?.of ?? []);
  const draw = useCallback(
    (size: FigureSize) => meansFigure(findings, of.split(' by '), size),
    [findings, of],
  );
  return (
    <>
      <FoldedPart title="Figures" said={analysisSummary(findings)} name="analysis">
        <p className="field-remark">
          {methodOf(findings)} Place: {positionWords(findings)[model]} ({POSITION_TERMS[model]}).
        </p>
        <TableView table={termsTable(findings)} testId="terms-table" />
        <TableView table={slopesTable(findings, lengths)} testId="slopes-table" />
        <TableView table={varianceTable(findings)} />
        <TableView table={plantsTable(findings)} testId="plants-table" />
        {otherWarnings(findings).map((warning) => (
          <p key={warning} className="field-remark">
            {warning}
          </p>
        ))}
      </FoldedPart>
      {chosen ? (
        <FoldedPart
          title="Adjusted means"
          said={`by ${choices.map((m) => key(m.of)).join(', ')}`}
          name="means"
        >
          {choices.length > 1 ? (
            <Segmented
              label="Means of"
              value={of}
              options={choices.map((m) => ({ value: key(m.of), label: key(m.of) }))}
              onChoose={setAsked}
            />
          ) : null}
          <FigureView draw={draw} testId="means-figure" />
          <TableView table={meansTable(findings, chosen.of)} testId="means-table" />
        </FoldedPart>
      ) : null}
    </>
  );
}
