import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import { addIncident } from '../../../document/commands';
import { useDispatch, useSession } from '../../../store/context';
import { Button, Field, Select, today } from '../../../ui';
import { reasonOf } from '../../../words';
import { DayPicker } from '../DayPicker';
import { placesIn, WHOLE_RACK, type IncidentScope } from './incidentPlaces';
import { reducedPhoto } from './reducedPhoto';

const USUAL = ['Pump failed', 'Algae on the surface', 'Pests seen', 'Lamp died', 'Ran dry'];

/** Writes down what happened, when, and to what of the rack that is selected. */
export function IncidentForm({ plan, onDone }: { plan: Plan; onDone?: () => void }) {
  const dispatch = useDispatch();
  const selection = useSession((s) => s.selection);
  const [date, setDate] = useState(today);
  const [text, setText] = useState('');
  const [scope, setScope] = useState<IncidentScope>('selected');
  const [photo, setPhoto] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const places = placesIn(plan, selection);
  const chosen = places.find((place) => place.value === scope) ?? places[0] ?? WHOLE_RACK;
  const add = () => {
    if (text.trim() === '' || date === '') return;
    const about = [...chosen.ids];
    const incident = { date, text: text.trim(), about, ...(photo === null ? {} : { photo }) };
    const done = dispatch(addIncident, incident);
    setProblem(done.ok ? null : done.reason);
    if (!done.ok) return;
    setText('');
    setPhoto(null);
    onDone?.();
  };
  return (
    <div className="records-fields is-log">
      <Field label="What happened">
        {(id) => (
          <>
            <input
              id={id}
              className="input"
              data-testid="incident-text"
              list={`${id}-usual`}
              autoComplete="off"
              value={text}
              onChange={(event) => setText(event.target.value)}
              onKeyDown={(event) => {
                if (event.key === 'Enter') add();
              }}
            />
            <datalist id={`${id}-usual`}>
              {USUAL.map((usual) => (
                <option key={usual} value={usual} />
              ))}
            </datalist>
          </>
        )}
      </Field>
      <DayPicker label="Day" testId="incident-date" value={date} onCommit={setDate} />
      <Select
        label="To what (select it on the rack)"
        testId="incident-about"
        value={chosen.value}
        options={places}
        onCommit={setScope}
      />
      <Field label="Photo" problem={problem}>
        {(id, describedBy) => (
          <input
            id={id}
            type="file"
            accept="image/*"
            className="input"
            data-testid="incident-photo"
            aria-describedby={describedBy}
            // Another incident begins without the photo of the last one.
            key={photo === null ? 'none' : 'chosen'}
            onChange={(event) => {
              const [file] = event.target.files ?? [];
              if (!file) return;
              reducedPhoto(file).then(setPhoto, (error: unknown) => setProblem(reasonOf(error)));
            }}
          />
        )}
      </Field>
      {photo === null ? null : <img className="incident-photo" src={photo} alt="To be kept" />}
      <Button
        tone="primary"
        data-testid="incident-add"
        disabled={text.trim() === '' || date === ''}
        onClick={add}
      >
        Write down
      </Button>
    </div>
  );
}
