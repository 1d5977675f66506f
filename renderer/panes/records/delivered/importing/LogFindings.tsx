import { deliveredIn } from '../../../../derive';
import { LIT_SHARE, type LogPreview } from '../../../../document/delivered';
import { Facts, figureColumn, Table } from '../../../../ui';
import { capital, percent, sayDay, type UnitSystem } from '../../../../words';
import type { LeftOutForReason, LogLine, logSummary } from './logSummary';

/** What would be logged, a line a unit and measure, and what of it is a sum of many readings. */
export function LogFigures(props: {
  preview: LogPreview;
  summary: ReturnType<typeof logSummary>;
  lengths: UnitSystem;
}) {
  const { preview, summary, lengths } = props;
  const { lines } = summary;
  const dense = lines.filter(({ readings }) => readings > 1);
  const has = (measure: LogLine['measure']) => dense.some((line) => line.measure === measure);
  const said = (value: (line: LogLine) => number) => (line: LogLine) =>
    deliveredIn(line.measure, lengths).say(value(line), false);
  return (
    <>
      {lines.length === 0 ? null : (
        <Table
          caption="What would be logged"
          showCaption
          testId="log-figures"
          rows={lines}
          rowKey={({ unit, measure }) => `${unit} ${measure}`}
          columns={[
            { key: 'unit', head: 'Unit', cell: ({ unit }) => capital(unit) },
            {
              key: 'measure',
              head: 'Measure',
              cell: ({ measure }) => deliveredIn(measure, lengths).head,
            },
            {
              key: 'days',
              head: 'Days',
              cell: ({ from, to }) =>
                from === to ? sayDay(from) : `${sayDay(from)} to ${sayDay(to)}`,
            },
            figureColumn('Figures', ({ days }: LogLine) => days),
            figureColumn('Readings a day', ({ readings }: LogLine) => readings, 'at most'),
            figureColumn(
              'Lowest',
              said(({ lowest }) => lowest),
            ),
            figureColumn(
              'Mean',
              said(({ mean }) => mean),
            ),
            figureColumn(
              'Highest',
              said(({ highest }) => highest),
            ),
          ]}
        />
      )}
      {dense.length > 0 ? (
        <p data-testid="log-summed">
          One figure a day is logged, the mean of its readings
          {has('ppfd')
            ? `; of PPFD the mean while lit, at ${percent(LIT_SHARE)} of the day’s highest or more`
            : ''}
          {has('hours') ? '; of lamp hours the highest of the day' : ''}.
        </p>
      ) : null}
      <Facts
        rows={[
          ['Readings', String(preview.readings)],
          ['Figures to log', String(preview.figures.length)],
          ['Of these, other than what is logged', String(summary.replaced)],
          ['Cells and lines left out', String(preview.leftOut.length)],
          ['Empty cells', String(preview.blank)],
        ]}
      />
    </>
  );
}

/** Lines and cells that stay out, by reason. */
export function LogLeftOutTable({ rows }: { rows: readonly LeftOutForReason[] }) {
  if (rows.length === 0) return null;
  return (
    <Table
      caption="Left out, by reason"
      showCaption
      testId="log-left-out"
      rows={rows}
      rowKey={({ why }) => why}
      columns={[
        { key: 'why', head: 'Why', cell: ({ why }) => why },
        figureColumn('Cells', ({ count }: LeftOutForReason) => count),
        { key: 'found', head: 'First found', cell: ({ found }) => found },
        { key: 'lines', head: 'Lines', cell: ({ lines }) => lines },
      ]}
    />
  );
}
