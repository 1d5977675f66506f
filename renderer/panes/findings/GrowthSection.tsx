import { useCallback, useEffect, useEffectEvent, useMemo, useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { datesOf, findingsInputOf, growthBetween, type GrowthRow } from '../../derive';
import {
  paceOf,
  paceWords,
  seriesScaleWords,
  unbroken,
  type Findings,
} from '../../engine/findings';
import { measurementLabel } from '../../document/queries/names';
import { growthTable, seriesFigure, type FigureSize } from '../../print/report';
import { useJob } from '../../store/jobsContext';
import { FieldRow, Select, Swatch, Table, treatmentLook } from '../../ui';
import { FigureView } from './FigureView';
import { FoldedPart } from './FoldedPart';
import { TakeTable } from './TakeAway';
import { asStandardError, figures, saidP } from '../../words';

/** A rate with its standard error in like decimals. */
function rateWords(rate: GrowthRow['rate']): string {
  if (!rate) return '–';
  const say = asStandardError(rate.se);
  return `${say(rate.value)} ± ${say(rate.se)}`;
}

/** Growth over time: curves with intervals, and indices between any two dates. */
export function GrowthSection({ plan, findings }: { plan: Plan; findings: Findings }) {
  const { measurement } = findings.question;
  const { confidence } = findings;
  const dates = useMemo(() => datesOf(plan, measurement), [plan, measurement]);
  const job = useJob('series');
  const input = useMemo(() => findingsInputOf(plan), [plan]);
  const pace = useMemo(
    () => input && paceOf(input, measurement, confidence),
    [input, measurement, confidence],
  );
  const enough = dates.length > 1;
  const begin = useEffectEvent(() => {
    if (input && enough) job.start({ data: input, measurement, confidence });
  });
  useEffect(() => begin(), [input, enough, measurement, confidence]);
  const series = job.result;
  const draw = useCallback(
    (size: FigureSize) => (series ? seriesFigure(series, size) : null),
    [series],
  );
  const [from, setFrom] = useState<string | null>(null);
  const [to, setTo] = useState<string | null>(null);
  const first = dates.find((m) => m.id === from) ?? dates[0];
  const last = dates.find((m) => m.id === to) ?? dates.at(-1);
  const growth = first && last ? growthBetween(plan, first.id, last.id) : null;
  if (!enough || !first || !last) return null;
  const options = dates.map((m) => ({ value: m.id, label: measurementLabel(m) }));
  return (
    <FoldedPart
      title="Growth over time"
      said={pace ? (paceWords(pace)[0] ?? '').replace(/:.*/, '') : `${dates.length} dates`}
      name="growth"
    >
      {pace ? <p data-testid="growth-pace">{paceWords(pace).join(' ')}</p> : null}
      {job.problem ? <p className="field-remark">{job.problem}</p> : null}
      {series ? (
        <>
          <FigureView draw={draw} testId="growth-figure" />
          <p className="field-remark">
            {seriesScaleWords(series)} {series.method}{' '}
            {series.terms
              .filter((term) => / × day$|^day × /.test(term.term) && term.p !== null)
              .map((term) => unbroken(`${term.term}: ${saidP(term.p ?? 1, findings.alpha)}`))
              .join('; ')}
            .
          </p>
        </>
      ) : null}
      {dates.length > 2 ? (
        <FieldRow>
          <Select label="From" value={first.id} options={options} onCommit={setFrom} />
          <Select label="To" value={last.id} options={options} onCommit={setTo} />
        </FieldRow>
      ) : null}
      {growth ? (
        <div className="findings-table">
          <TakeTable table={growthTable(growth)} />
          <Table
            caption={`Means of ${growth.days} days; gains and rates are means of the plants’ own`}
            showCaption
            rows={growth.rows}
            rowKey={(row) => row.key}
            columns={[
              {
                key: 'name',
                head: 'Treatment',
                cell: (row) => (
                  <span className="legend-item">
                    {row.letter ? (
                      <Swatch look={treatmentLook(row.index)} letter={row.letter} size={18} />
                    ) : null}
                    {row.name}
                  </span>
                ),
              },
              { key: 'n', head: 'Pots', numeric: true, cell: (row) => row.pots },
              {
                key: 'start',
                head: 'From',
                unit: growth.unit,
                numeric: true,
                cell: (row) => figures(row.start, 3),
              },
              {
                key: 'final',
                head: 'To',
                unit: growth.unit,
                numeric: true,
                cell: (row) => figures(row.final, 3),
              },
              {
                key: 'gain',
                head: 'Gain a day',
                unit: growth.unit,
                numeric: true,
                cell: (row) => figures(row.gainPerDay, 3),
              },
              {
                key: 'percent',
                head: 'Gain',
                unit: '%',
                numeric: true,
                cell: (row) => (row.percent === null ? '–' : figures(row.percent, 3)),
              },
              {
                key: 'rgr',
                head: 'Relative growth rate',
                unit: 'per day',
                numeric: true,
                cell: (row) => rateWords(row.rate),
              },
              {
                key: 'doubling',
                head: 'Doubling',
                unit: 'days',
                numeric: true,
                cell: (row) =>
                  row.rate && row.rate.value > 0 ? figures(Math.LN2 / row.rate.value, 3) : '–',
              },
            ]}
          />
        </div>
      ) : (
        <p className="field-remark">No days lie between these two measurements.</p>
      )}
    </FoldedPart>
  );
}
