import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import { calibrationsOf, readingRowsOf, type ReadingRow } from '../../derive';
import { removeReadings } from '../../document/commands';
import { useDispatch, useSession } from '../../store/context';
import { Button, fixed, plural, Table } from '../../ui';
import { ReadingFields } from './ReadingFields';
import { ReadingsDialog } from './ReadingsDialog';
import { ReadingsFigure } from './ReadingsFigure';
import { useReadingUnit } from './readingUnit';

/** Meter readings: entered here, beside what the estimate says, and what they make of it. */
export function ReadingsPanel({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const selection = useSession((s) => s.selection);
  const select = useSession((s) => s.select);
  const [pasting, setPasting] = useState(false);
  const unit = useReadingUnit();
  const rows = readingRowsOf(plan);
  const selected = selection.flatMap((ref) => (ref.startsWith('reading:') ? [ref.slice(8)] : []));
  const lengths = plan.display.lengths;
  const wild = rows.filter((row) => row.checked?.wild);
  return (
    <>
      <ReadingFields plan={plan} unit={unit} />
      <div className="section-actions">
        <Button data-testid="paste-readings" onClick={() => setPasting(true)}>
          Paste a table…
        </Button>
        {selected.length > 0 ? (
          <Button tone="danger" onClick={() => dispatch(removeReadings, { readingIds: selected })}>
            Remove {plural(selected.length, 'reading')}
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
          {wild.map((row) => (
            <p key={row.reading.id} className="field-problem" role="alert">
              The reading of {fixed(row.measuredUmol ?? 0, 0)} on shelf {row.shelfNumber} at{' '}
              {fixed(row.reading.xMm, 0)}, {fixed(row.reading.yMm, 0)} mm does not agree with the
              others, which put {fixed(row.checked?.calibratedUmol ?? 0, 0)} there. It is left out;
              measure there again.
            </p>
          ))}
          <ReadingsFigure rows={rows} />
          <Table<ReadingRow>
            caption={`${plural(rows.length, 'reading')}, PPFD in µmol m⁻² s⁻¹, places in ${lengths === 'metric' ? 'mm' : 'mm (as stored)'}`}
            showCaption
            testId="readings"
            rows={rows}
            rowKey={(row) => row.reading.id}
            isMarked={(row) => selected.includes(row.reading.id)}
            onRowClick={(row) => select([`reading:${row.reading.id}`])}
            columns={[
              {
                key: 'place',
                head: 'Shelf, x, y, z',
                cell: ({ reading, shelfNumber }) =>
                  `${shelfNumber}, ${fixed(reading.xMm, 0)}, ${fixed(reading.yMm, 0)}, ${fixed(reading.zMm, 0)}`,
              },
              {
                key: 'measured',
                head: 'measured',
                numeric: true,
                cell: (row) => (row.measuredUmol === null ? '–' : fixed(row.measuredUmol, 0)),
              },
              {
                key: 'estimated',
                head: 'estimated',
                numeric: true,
                cell: (row) =>
                  !row.checked || row.checked.unusable !== null
                    ? '–'
                    : fixed(row.checked.estimatedUmol, 0),
              },
              {
                key: 'residual',
                head: 'off by',
                unit: '%',
                numeric: true,
                cell: (row) => residual(row),
              },
            ]}
          />
        </>
      )}
    </>
  );
}

function residual({ checked }: ReadingRow): string {
  if (!checked) return 'not used';
  if (checked.unusable !== null) return checked.unusable;
  const percent = checked.residualPercent;
  const text = percent === null ? '–' : `${percent > 0 ? '+' : ''}${fixed(percent, 1)}`;
  return checked.wild ? `${text}, left out` : text;
}

const SURFACE = {
  none: 'no smooth correction',
  plane: 'a tilted plane over the shelf',
  smooth: 'a smooth correction over the shelf',
};

/** What the readings made of each shelf's estimate. */
function Fits({ plan }: { plan: Plan }) {
  return (
    <ul className="plain-list" data-testid="calibration">
      {calibrationsOf(plan).map(({ shelfNumber, calibration }) => (
        <li key={shelfNumber}>
          <strong>Shelf {shelfNumber} is calibrated</strong> by{' '}
          {plural(calibration.used, 'reading')}: {factors(calibration)},{' '}
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
  scales: { group: string; scale: number }[];
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
