import { useState, type ReactNode } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import {
  calibrationsOf,
  earlierRunReadingsOf,
  estimatesAt,
  outdatedReadingsOf,
  readingRowsOf,
  slipsOf,
  withheldOf,
  type ReadingRow,
} from '../../../derive';
import { keepReadings, removeReadings } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button } from '../../../ui';
import { ReadingFields } from './ReadingFields';
import { ReadingsDialog } from './ReadingsDialog';
import { ReadingsFigure } from './ReadingsFigure';
import { ReadingsTable } from './ReadingsTable';
import { useReadingUnit } from './readingUnit';
import { fixed, lengthNumber, lengthUnit, plural, listSign } from '../../../words';

/** Meter readings: entered here, beside what the estimate says, and what they make of it. */
export function ReadingsPanel({ plan }: { plan: Plan }) {
  const [pasting, setPasting] = useState(false);
  const unit = useReadingUnit();
  const dispatch = useDispatch();
  const rows = readingRowsOf(plan);
  const lengths = plan.display.lengths;
  const outdated = outdatedReadingsOf(plan);
  const earlier = earlierRunReadingsOf(plan).filter((id) => !outdated.includes(id));
  const outlier = rows.filter(({ checked }) => checked?.outlier && checked.slip === null);
  return (
    <>
      <ReadingFields plan={plan} unit={unit} />
      <div className="section-actions">
        <Button data-testid="paste-readings" onClick={() => setPasting(true)}>
          Paste a table…
        </Button>
        {rows.length > 0 ? (
          <Button
            tone="quiet"
            data-testid="drop-readings"
            onClick={() =>
              dispatch(removeReadings, { readingIds: rows.map(({ reading }) => reading.id) })
            }
          >
            Remove all readings
          </Button>
        ) : null}
      </div>
      {pasting ? (
        <ReadingsDialog plan={plan} unit={unit} onClose={() => setPasting(false)} />
      ) : null}
      {rows.length === 0 ? (
        <p className="field-remark">
          Level sensor, at canopy height: under each lamp, between lamps and at the corners. Three
          readings or more to a shelf let its error be judged.
        </p>
      ) : (
        <>
          <Fits plan={plan} />
          {withheldOf(plan).map(({ shelfNumber, reason, remedy }) => (
            <p key={shelfNumber} className="field-problem" role="alert" data-testid="withheld">
              {reason} {remedy}
            </p>
          ))}
          {slipsOf(plan).map((said) => (
            <p key={said} className="field-problem" role="alert" data-testid="slips">
              {said}
            </p>
          ))}
          {outdated.length > 0 ? (
            <StillHold plan={plan} readingIds={outdated} testId="readings-outdated">
              {plural(outdated.length, 'reading')} of lamps or surfaces that have been changed
              since: {carriedOver(rows, outdated)}. Measure again; or, where only the drawing was
              put right:
            </StillHold>
          ) : null}
          {earlier.length > 0 ? (
            <StillHold plan={plan} readingIds={earlier} testId="readings-earlier-run">
              {plural(earlier.length, 'reading')} from an earlier run: {carriedOver(rows, earlier)}.
              Lamps age and canopies differ: measure again; or, where nothing has changed:
            </StillHold>
          ) : null}
          {outlier.map((row) => (
            <p key={row.reading.id} className="field-problem" role="alert">
              The reading of {fixed(row.measuredUmol ?? 0, 0)} on shelf {row.shelfNumber} at{' '}
              {lengthNumber(row.reading.xMm, lengths)}
              {listSign()}
              {lengthNumber(row.reading.yMm, lengths)} {lengthUnit(lengths)} does not agree with the
              others, which put {fixed(row.checked?.calibratedUmol ?? 0, 0)} there. It is left out;
              measure there again.
            </p>
          ))}
          <ReadingsFigure rows={rows} />
          <ReadingsTable plan={plan} rows={rows} />
        </>
      )}
    </>
  );
}

/** Readings that were taken of something else, with the way to say that it is the same. */
function StillHold(props: {
  plan: Plan;
  readingIds: readonly string[];
  testId: string;
  children: ReactNode;
}) {
  const { plan, readingIds } = props;
  const dispatch = useDispatch();
  const keep = () => {
    const readings = plan.light.readings.filter(({ id }) => readingIds.includes(id));
    const found = estimatesAt(plan, readings);
    const estimates = new Map(
      readings.flatMap(({ id }, i) => {
        const estimate = found[i];
        return estimate === undefined ? [] : [[id, estimate] as const];
      }),
    );
    dispatch(keepReadings, { readingIds, estimates });
  };
  return (
    <div className="field-problem" role="status" data-testid={props.testId}>
      {props.children}
      <div className="section-actions">
        <Button data-testid="keep-readings" onClick={keep}>
          They still hold
        </Button>
      </div>
    </div>
  );
}

/** What is made of readings of something else. */
function carriedOver(rows: readonly ReadingRow[], ids: readonly string[]): string {
  const used = rows.some(
    ({ reading, checked }) => checked?.unusable === null && ids.includes(reading.id),
  );
  return used
    ? 'carried over by their ratio to the estimate of then, with a wider ±, until you measure anew'
    : 'left out';
}

const SURFACE = {
  none: 'no smooth correction',
  smooth: 'a smooth correction over the shelf',
};

/** What the readings made of each shelf's estimate. */
function Fits({ plan }: { plan: Plan }) {
  return (
    <ul className="plain-list" data-testid="calibration">
      {calibrationsOf(plan).map(({ shelfNumber, calibration }) => (
        <li key={shelfNumber}>
          <strong>
            Shelf {shelfNumber} is {calibration.carried ? 'carried over' : 'calibrated'}
          </strong>{' '}
          {calibration.carried ? 'from' : 'by'} {plural(calibration.used, 'reading')}
          {calibration.carried ? ' before the change' : ''}: {factors(calibration)},{' '}
          {SURFACE[calibration.surface]}.{' '}
          {calibration.leftOutPercent === null
            ? 'Too few to judge their own error.'
            : `A reading left out is met within ${fixed(calibration.leftOutPercent, 1)} %.`}
        </li>
      ))}
    </ul>
  );
}

function factors({
  scales,
  separate,
}: {
  scales: readonly { group: string; scale: number }[];
  separate: boolean;
}) {
  const [first] = scales;
  if (!first) return 'no lamp';
  if (!separate) return `the lamps give ${fixed(first.scale, 2)} × what their figures say`;
  return scales
    .map(
      ({ group, scale }) =>
        `group ${group === '' ? 'without a name' : group} gives ${fixed(scale, 2)} ×`,
    )
    .join(', ');
}
