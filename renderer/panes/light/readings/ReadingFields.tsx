import { useEffect, useRef, useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { conversionOf, placeOfCode, withEstimates } from '../../../derive';
import { canopyOver } from '../../../engine/geometry';
import { addReadings } from '../../../document/commands';
import { useDispatch, useSession } from '../../../store/context';
import {
  Button,
  DateField,
  Field,
  FieldRow,
  LengthField,
  readNumberText,
  Select,
  TypedField,
} from '../../../ui';
import { LuxFields } from './LuxFields';
import type { ReadingUnitChoice } from './readingUnit';
import { forgetPlace, placeReading, useLightSession } from '../lightSession';
import { formatLength } from '../../../words';

/** One reading after another: a place (clicked, or by pot code), then the value and Enter. */
export function ReadingFields({ plan, unit }: { plan: Plan; unit: ReadingUnitChoice }) {
  const dispatch = useDispatch();
  const { lengths } = plan.display;
  const place = useLightSession((s) => s.place);
  const [height, setHeight] = useState<number | null>(null);
  const [text, setText] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const value = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (!place) return;
    // The click on the rack ends with the rack taking the focus; the field's turn is after that.
    const turn = requestAnimationFrame(() => value.current?.focus());
    return () => cancelAnimationFrame(turn);
  }, [place]);
  const shelf = plan.rack.shelves.find((s) => s.id === place?.shelfId);
  const canopy = shelf && place ? canopyOver(shelf, plan.light.canopyAt) : null;
  const zMm = height ?? (canopy && place ? canopy(place.xMm, place.yMm) : null);

  const add = () => {
    if (!place || !shelf || zMm === null) {
      setProblem('Say where first: a click on the rack or a pot’s code.');
      return;
    }
    const read = readNumberText(text, 0.01);
    if (!read.ok || read.value < 0) {
      const expected = `Found ${text.trim() || 'nothing'}; a reading of 0 or more is expected.`;
      setProblem(read.ok ? expected : (read.expected ?? expected));
      return;
    }
    const done = dispatch(addReadings, {
      readings: withEstimates(plan, [
        { ...place, zMm, value: read.value, ...conversionOf(unit), date: unit.date, note: '' },
      ]),
    });
    if (!done.ok) return;
    setText('');
    setProblem(null);
    forgetPlace();
  };

  return (
    <>
      <MeterFields unit={unit} />
      {unit.unit === 'lux' ? <LuxFields conversion={unit} onCommit={unit.setConversion} /> : null}
      <PlaceButton />
      <FieldRow>
        <TypedField<string>
          label="or at pot"
          testId="reading-pot"
          placeholder="2B-C7"
          value=""
          show={(code) => code}
          // A code that no pot has stays as it was typed, so that it can be put right.
          read={(code) =>
            code.trim() === '' || placeOfCode(plan, code)
              ? { ok: true, value: code }
              : { ok: false, expected: `No pot has the code ${code.trim()}.` }
          }
          onCommit={(code) => {
            const found = placeOfCode(plan, code);
            if (found) placeReading(found.shelfId, found.xMm, found.yMm);
            setProblem(null);
          }}
        />
        {place ? (
          <LengthField
            label="Sensor above the shelf"
            system={lengths}
            lowestMm={0}
            highestMm={5000}
            valueMm={zMm}
            testId="reading-height"
            onCommit={setHeight}
          />
        ) : null}
      </FieldRow>
      <Field
        label={
          shelf && place
            ? `Reading on shelf ${shelf.number}, ${formatLength(place.xMm, lengths)} from the left, ${formatLength(place.yMm, lengths)} from the front`
            : 'Reading'
        }
        problem={problem}
      >
        {(id, describedBy) => (
          <span className="input-with-unit">
            <input
              ref={value}
              id={id}
              className="input input-numeric"
              inputMode="decimal"
              autoComplete="off"
              aria-describedby={describedBy}
              data-testid="reading-value"
              value={text}
              onChange={(event) => setText(event.target.value)}
              onKeyDown={(event) => {
                if (event.key === 'Enter') add();
              }}
            />
            <span className="unit">{unit.unit === 'lux' ? 'lux' : 'µmol m⁻² s⁻¹'}</span>
            <Button onClick={add} data-testid="reading-add">
              Add
            </Button>
          </span>
        )}
      </Field>
    </>
  );
}

/** What the meter reads, and when. */
function MeterFields({ unit }: { unit: ReadingUnitChoice }) {
  return (
    <FieldRow>
      <Select
        label="The meter reads"
        testId="reading-unit"
        value={unit.unit}
        options={[
          { value: 'ppfd', label: 'PPFD, µmol m⁻² s⁻¹' },
          { value: 'lux', label: 'lux' },
        ]}
        onCommit={unit.setUnit}
      />
      <DateField label="Taken on" value={unit.date} testId="reading-date" onCommit={unit.setDate} />
    </FieldRow>
  );
}

/** Takes up the tool with which a click on the rack says where. */
function PlaceButton() {
  const tool = useSession((s) => s.tool);
  const takeTool = useSession((s) => s.takeTool);
  const setView = useSession((s) => s.setView);
  return (
    <div className="section-actions">
      <Button
        pressed={tool === 'reading'}
        data-testid="place-reading"
        onClick={() => {
          if (tool === 'reading') {
            takeTool('select');
            return;
          }
          setView('above');
          takeTool('reading');
        }}
      >
        Click the place on the rack
      </Button>
    </div>
  );
}
