import { useMemo, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { readReadings, withEstimates, type ReadingUnit } from '../../../derive';
import { addReadings } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { useHostOffer } from '../../../store/hostContext';
import { Button, Dialog, Field } from '../../../ui';
import { lengthUnit, plural, fieldNumber } from '../../../words';

const LISTED = 12;

/** Readings from a table: pasted, or from a file. All of them or none. */
export function ReadingsDialog(props: { plan: Plan; unit: ReadingUnit; onClose: () => void }) {
  const { plan, unit, onClose } = props;
  const dispatch = useDispatch();
  const host = useHostOffer();
  const [text, setText] = useState('');
  const read = useMemo(
    () => (text.trim() === '' ? null : readReadings(plan, text, unit)),
    [plan, text, unit],
  );
  const openFile = async () => {
    const opened = await host.open('table');
    if (opened) setText(opened.text);
  };
  return (
    <Dialog
      title="Meter readings from a table"
      testId="readings-dialog"
      onClose={onClose}
      actions={
        <>
          <Button onClick={() => void openFile()}>From a file…</Button>
          <Button onClick={onClose}>Cancel</Button>
          <Button
            tone="primary"
            disabled={!read?.ok}
            data-testid="take-readings"
            onClick={() => {
              if (!read?.ok) return;
              const done = dispatch(addReadings, { readings: withEstimates(plan, read.readings) });
              if (done.ok) onClose();
            }}
          >
            {read?.ok ? `Take ${plural(read.readings.length, 'reading')}` : 'Take the readings'}
          </Button>
        </>
      }
    >
      <Field
        label={`Columns shelf, x, y, z, value (${lengthUnit(plan.display.lengths)} from the front left corner; z may be left out), or pot, value; perhaps date, note`}
        remark={`Values in ${unit.unit === 'lux' ? `lux, ${fieldNumber(unit.luxPerPpfd ?? 0)} to the PPFD` : 'µmol m⁻² s⁻¹'}, unless the column is headed ppfd or lux.`}
      >
        {(id, describedBy) => (
          <textarea
            id={id}
            className="input"
            rows={10}
            aria-describedby={describedBy}
            data-testid="readings-text"
            placeholder={
              plan.display.lengths === 'metric'
                ? 'shelf,x,y,z,value\n1,300,150,200,214'
                : 'shelf,x,y,z,value\n1,12,6,8,214'
            }
            value={text}
            onChange={(event) => setText(event.target.value)}
          />
        )}
      </Field>
      {read && !read.ok ? (
        <ul className="plain-list" role="alert" data-testid="readings-problems">
          {read.problems.slice(0, LISTED).map((problem) => (
            <li key={problem} className="field-problem">
              {problem}
            </li>
          ))}
          {read.problems.length > LISTED ? (
            <li className="field-problem">and {read.problems.length - LISTED} more.</li>
          ) : null}
        </ul>
      ) : null}
    </Dialog>
  );
}
