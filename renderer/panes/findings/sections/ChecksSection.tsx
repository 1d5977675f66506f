import { useCallback, useState } from 'react';
import { chosenInputOf } from '../../../derive';
import { runName } from '../../../document/runs';
import { potsBehind, rowOfPot, statements, type Findings } from '../../../engine/findings';
import {
  potsTable,
  quantileFigure,
  residualFigure,
  spreadFigure,
  type FigureSize,
} from '../../../print/report';
import { usePlanStore, useSession } from '../../../store/context';
import { useFindings, useFindingsCurrent } from '../../../store/findingsContext';
import { useJob } from '../../../store/jobsContext';
import { Button, Table } from '../../../ui';
import { FigureView } from '../parts/FigureView';
import { FoldedPart } from '../parts/FoldedPart';
import { checksSummary } from '../parts/summaries';
import { TableView } from '../parts/TableView';
import { plural, said, saidP, saidRange } from '../../../words';

/** Whether the analysis suits the data, and which pots it leans on. */
export function ChecksSection({ findings, editable }: { findings: Findings; editable: boolean }) {
  const residuals = useCallback((size: FigureSize) => residualFigure(findings, size), [findings]);
  const quantiles = useCallback((size: FigureSize) => quantileFigure(findings, size), [findings]);
  const spread = useCallback((size: FigureSize) => spreadFigure(findings, size), [findings]);
  const { checks } = findings.primary.result;
  const normal = checks['shapiro-wilk'];
  const even = checks['brown-forsythe'];
  const { power } = findings.checks;
  const pOf = (check: Record<string, number | null> | undefined) =>
    typeof check?.['p'] === 'number' ? saidP(check['p'], findings.alpha) : 'not to be had';
  return (
    <FoldedPart title="Checks" said={checksSummary(findings)} name="checks">
      <div className="findings-pair">
        <FigureView draw={residuals} testId="residual-figure" />
        <FigureView draw={quantiles} testId="quantile-figure" />
      </div>
      {findings.design.tested.length > 0 ? <FigureView draw={spread} /> : null}
      <ul className="findings-effects">
        <li>
          Shape of the residuals (Shapiro–Wilk): W {said(normal?.['w'] ?? Number.NaN, '', 3)},{' '}
          {pOf(normal)}
        </li>
        {even ? <li>Spread between treatments (Brown–Forsythe): {pOf(even)}</li> : null}
        {power ? (
          <li>
            Best transformation (Box–Cox λ): {said(power.power, '', 2)}, with{' '}
            {saidRange(power.lower, power.upper)} not ruled out; 1 is the measurement as it is, 0
            its logarithm.
          </li>
        ) : null}
      </ul>
      <TableView table={potsTable(findings)} testId="pots-table" />
      {editable ? <WithAndWithout findings={findings} /> : null}
    </FoldedPart>
  );
}

/** The answers side by side, with and without the pots that stand out or are selected. */
function WithAndWithout({ findings }: { findings: Findings }) {
  const plan = usePlanStore((s) => s.plan);
  const selection = useSession((s) => s.selection);
  const choice = useFindings((s) => s.choice);
  const current = useFindingsCurrent();
  const job = useJob('withoutPots');
  const analysed = new Set(findings.residuals.keys());
  const selected = selection
    .filter((ref) => ref.startsWith('pot:'))
    .map((ref) => rowOfPot(findings, ref.slice(4), plan ? runName(plan) : ''))
    .filter((id) => analysed.has(id));
  const standing = findings.checks.pots
    .filter((pot) => pot.outlying || pot.influential)
    .flatMap((pot) => potsBehind(findings, pot.potId));
  const aside = selected.length > 0 ? selected : standing;
  const input = plan && chosenInputOf(plan, choice.runs);
  // What was found without some pots stands beside the findings that it was asked for alone.
  const [askedOf, setAskedOf] = useState<Findings | null>(null);
  const result = askedOf === findings ? job.result : null;
  const other = result?.ok ? result.findings : null;
  const problem =
    askedOf === findings ? (job.problem ?? (result && !result.ok ? result.missing : null)) : null;
  const rows = other
    ? [
        { label: 'with all pots', of: findings },
        {
          label: `without ${other.leftOut
            .filter((entry) => entry.why === 'set-aside')
            .map((entry) => entry.pot.code)
            .join(', ')}`,
          of: other,
        },
      ].flatMap(({ label, of }) =>
        statements(of)
          .filter((s) => ['factor', 'interaction', 'contrast'].includes(s.about))
          .map((s) => ({ label, of: s.of ?? '', text: s.text })),
      )
    : [];
  rows.sort((a, b) => a.of.localeCompare(b.of));
  return (
    <>
      <div className="section-actions">
        <Button
          disabled={!current || aside.length === 0 || job.running}
          data-testid="without-pots"
          onClick={() => {
            if (!input) return;
            setAskedOf(findings);
            job.start({ data: input, choice, setAside: aside });
          }}
        >
          {selected.length > 0
            ? `Compare without the ${plural(selected.length, 'selected pot')}`
            : standing.length > 0
              ? `Compare without the ${plural(standing.length, 'pot')} named`
              : 'Select pots to compare the results without them'}
        </Button>
      </div>
      {problem ? <p className="field-problem">{problem}</p> : null}
      {other ? (
        <Table
          caption="The answers with and without these pots; nothing is changed in the records"
          showCaption
          testId="with-without"
          rows={rows}
          rowKey={(row) => `${row.label} ${row.of} ${row.text}`}
          columns={[
            { key: 'label', head: 'Analysed', cell: (row) => row.label },
            { key: 'text', head: 'Answer', cell: (row) => row.text },
          ]}
        />
      ) : null}
    </>
  );
}
