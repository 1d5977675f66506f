import { POSITION_WORDS, type Findings } from '../../derive';
import type { ComparisonRow, MeanRow, TermRow } from '../../../shared-types/fit';
import { figures, fixed, probability, Section, Table } from '../../ui';

const df = (value: number | null) =>
  value === null
    ? '–'
    : Math.abs(value - Math.round(value)) < 1e-6
      ? fixed(value, 0)
      : fixed(value, 1);

/** Terms, adjusted means and comparisons of the primary model. */
export function AnalysisTables({ findings }: { findings: Findings }) {
  const { result } = findings.primary;
  const tested = new Set(findings.design.tested.map((role) => role.column));
  // Blocks and covariates are there to be allowed for; a p for them answers no question asked.
  const isTested = (term: TermRow) => term.term.split(' × ').every((part) => tested.has(part));
  const unit = findings.response.unit;
  return (
    <>
      <Section title="Analysis" testId="analysis">
        <p className="field-remark">
          {result.method} Position: {POSITION_WORDS[findings.primary.model]}.
        </p>
        <Table<TermRow>
          caption={`What the variation of ${findings.response.name} goes with`}
          rows={result.terms}
          rowKey={(row) => row.term}
          columns={[
            { key: 'term', head: 'Source', cell: (row) => row.term },
            { key: 'df', head: 'df', numeric: true, cell: (row) => df(row.df) },
            {
              key: 'ss',
              head: 'Sum of squares',
              numeric: true,
              cell: (row) => (row.ss === null ? '–' : figures(row.ss, 5)),
            },
            {
              key: 'dfError',
              head: 'Error df',
              numeric: true,
              cell: (row) => (isTested(row) ? df(row.dfError) : ''),
            },
            {
              key: 'F',
              head: result.terms.some((t) => t.kind === 'F') ? 'F' : 'χ²',
              numeric: true,
              cell: (row) =>
                isTested(row) && row.statistic !== null ? figures(row.statistic, 4) : '',
            },
            {
              key: 'p',
              head: 'p',
              numeric: true,
              cell: (row) => (isTested(row) && row.p !== null ? probability(row.p) : ''),
            },
          ]}
        />
        {result.variance.length > 1 ? (
          <Table
            caption="Where the unexplained variation lies"
            showCaption
            rows={result.variance}
            rowKey={(row) => row.unit}
            columns={[
              { key: 'unit', head: 'Among', cell: (row) => row.unit },
              {
                key: 'variance',
                head: 'Variance',
                numeric: true,
                cell: (row) => figures(row.variance, 4),
              },
            ]}
          />
        ) : null}
        {result.warnings.map((warning) => (
          <p key={warning} className="field-remark">
            {warning}
          </p>
        ))}
      </Section>
      <Section title="Adjusted means" testId="means">
        {result.means.map((group) => (
          <Table<MeanRow>
            key={group.of.join(' × ')}
            caption={`${group.of.join(' by ')}, ${unit}`}
            showCaption
            rows={group.rows}
            rowKey={(row) => group.of.map((f) => String(row[f])).join(' · ')}
            columns={[
              ...group.of.map((factor) => ({
                key: factor,
                head: factor,
                cell: (row: MeanRow) => String(row[factor]),
              })),
              {
                key: 'mean',
                head: 'Mean',
                numeric: true,
                cell: (row) => <strong>{figures(row.mean, 4)}</strong>,
              },
              { key: 'se', head: 'SE', numeric: true, cell: (row) => figures(row.se, 3) },
              {
                key: 'interval',
                head: `${fixed(findings.confidence * 100, 0)} % interval`,
                numeric: true,
                cell: (row) => `${figures(row.lower, 4)} to ${figures(row.upper, 4)}`,
              },
              ...(group.of.length === 1
                ? [
                    {
                      key: 'letters',
                      head: 'Alike',
                      cell: (row: MeanRow) => lettersOf(findings, group.of[0], row),
                    },
                  ]
                : []),
            ]}
          />
        ))}
        {result.means.length > 0 ? (
          <p className="field-remark">
            Levels that share a letter are not shown to differ (Tukey–Kramer).
          </p>
        ) : null}
      </Section>
      <Section title="Comparisons" testId="comparisons">
        {result.comparisons
          .filter((group) => group.of.some((column) => tested.has(column)))
          .map((group) => (
            <Table<ComparisonRow>
              key={group.of.join(' × ')}
              caption={`Differences between levels of ${group.of.join(' by ')}, ${unit}; p and interval by ${group.method === 'tukey' ? 'Tukey–Kramer' : group.method}`}
              showCaption
              rows={group.rows}
              rowKey={(row) => `${row.a} – ${row.b}`}
              columns={[
                { key: 'pair', head: 'Pair', cell: (row) => `${row.a} – ${row.b}` },
                {
                  key: 'difference',
                  head: 'Difference',
                  numeric: true,
                  cell: (row) => <strong>{figures(row.difference, 3)}</strong>,
                },
                {
                  key: 'interval',
                  head: 'Interval',
                  numeric: true,
                  cell: (row) => `${figures(row.lower, 3)} to ${figures(row.upper, 3)}`,
                },
                { key: 'p', head: 'p', numeric: true, cell: (row) => probability(row.p) },
              ]}
            />
          ))}
      </Section>
    </>
  );
}

function lettersOf(findings: Findings, column: string | undefined, row: MeanRow): string {
  const group = findings.primary.result.comparisons.find(
    (c) => c.of.length === 1 && c.of[0] === column,
  );
  return column ? (group?.letters[String(row[column])] ?? '') : '';
}
