import { useCallback, useEffect, useEffectEvent, useMemo, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { datesOf, findingsInputOf, growthBetween } from '../../../derive';
import {
  paceOf,
  paceWords,
  seriesScaleWords,
  unbroken,
  type Findings,
} from '../../../engine/findings';
import { measurementLabel } from '../../../document/queries/names';
import { seriesFigure, type FigureSize } from '../../../print/report';
import { useJob } from '../../../store/jobsContext';
import { FieldRow, Select } from '../../../ui';
import { FigureView } from '../parts/FigureView';
import { FoldedPart } from '../parts/FoldedPart';
import { GrowthTable } from './GrowthTable';
import { saidP } from '../../../words';

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
        <GrowthTable growth={growth} />
      ) : (
        <p className="field-remark">No days lie between these two measurements.</p>
      )}
    </FoldedPart>
  );
}
