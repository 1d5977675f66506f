import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import type { Incident } from '../../../shared-types/records';
import { addIncident, editIncident, removeIncident } from '../../document/commands';
import { idsOf, incidentRefs, refTo, sayThings } from '../../document/queries';
import { useDispatch, useSession } from '../../store/context';
import { Button, Field, Select, today } from '../../ui';
import { DayPicker } from './DayPicker';

const USUAL = ['Pump failed', 'Algae on the surface', 'Pests seen', 'Lamp died', 'Ran dry'];

/** The dated log: what happened, when, and to which trays or pots. */
export function LogPanel({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  const selection = useSession((s) => s.selection);
  const [date, setDate] = useState(today);
  const [text, setText] = useState('');
  const [scope, setScope] = useState<Scope>('selected');
  const places = placesIn(plan, selection);
  const chosen = places.find((place) => place.value === scope) ?? places[0] ?? RACK;
  const log = [...plan.records.incidents].sort((a, b) => (a.date < b.date ? 1 : -1));
  const add = () => {
    if (text.trim() === '' || date === '') return;
    const incident = { date, text: text.trim(), about: [...chosen.ids] };
    if (dispatch(addIncident, incident).ok) setText('');
  };
  return (
    <div className="records-form" data-testid="log-panel">
      <div className="records-fields is-log">
        <DayPicker label="Day" testId="incident-date" value={date} onCommit={setDate} />
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
        <Select
          label="To what (select it on the rack)"
          testId="incident-about"
          value={chosen.value}
          options={places}
          onCommit={setScope}
        />
        <Button
          tone="primary"
          data-testid="incident-add"
          disabled={text.trim() === '' || date === ''}
          onClick={add}
        >
          Write down
        </Button>
      </div>
      {log.length === 0 ? <p className="field-remark">Nothing has been written down yet.</p> : null}
      <ul className="records-log" data-testid="incidents">
        {log.map((incident) => (
          <li key={incident.id}>
            <span className="records-day">{incident.date}</span>
            {incident.kept ? (
              <span>{incident.text}</span>
            ) : (
              <EditableText
                key={incident.text}
                incident={incident}
                onCommit={(changed) =>
                  dispatch(editIncident, { incidentId: incident.id, patch: { text: changed } })
                }
              />
            )}
            <Button tone="quiet" onClick={() => select(incidentRefs(plan, incident))}>
              {aboutText(plan, incident)}
            </Button>
            {incident.kept ? null : (
              <Button
                tone="quiet"
                aria-label={`Remove the incident of ${incident.date}`}
                onClick={() => dispatch(removeIncident, { incidentId: incident.id })}
              >
                Remove
              </Button>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}

function EditableText(props: { incident: Incident; onCommit: (text: string) => void }) {
  const { incident, onCommit } = props;
  return (
    <input
      className="input records-log-text"
      aria-label={`What happened on ${incident.date}`}
      defaultValue={incident.text}
      title={incident.text}
      onBlur={(event) => {
        const text = event.target.value.trim();
        if (text !== '' && text !== incident.text) onCommit(text);
        else event.target.value = incident.text;
      }}
      onKeyDown={(event) => {
        if (event.key === 'Enter') event.currentTarget.blur();
      }}
    />
  );
}

type Scope = 'selected' | 'trays' | 'shelves' | 'rack';
interface Place {
  value: Scope;
  label: string;
  ids: readonly string[];
}
const RACK: Place = { value: 'rack', label: 'the whole rack', ids: [] };

/** What the selection offers: its things, the trays and the shelves of its pots, the whole rack. */
function placesIn(plan: Plan, selection: readonly string[]): Place[] {
  const things = selection.filter((ref) => /^(?:shelf|tray|lamp|board|pot):/.test(ref));
  if (things.length === 0) return [RACK];
  const inTrays = idsOf(things, 'pot').map((id) => id.slice(0, id.indexOf(':')));
  const trayIds = [...new Set(inTrays)];
  const shelfIds = plan.rack.shelves
    .filter((s) => s.trays.some((t) => trayIds.includes(t.id) || things.includes(`tray:${t.id}`)))
    .map((shelf) => shelf.id);
  const named = (value: Scope, refs: readonly string[], ids: readonly string[]): Place[] =>
    ids.length > 0 ? [{ value, label: sayThings(plan, refs), ids }] : [];
  return [
    ...named(
      'selected',
      things,
      things.map((ref) => ref.slice(ref.indexOf(':') + 1)),
    ),
    ...named(
      'trays',
      trayIds.map((id) => refTo('tray', id)),
      trayIds,
    ),
    ...named(
      'shelves',
      shelfIds.map((id) => refTo('shelf', id)),
      shelfIds,
    ),
    RACK,
  ];
}

function aboutText(plan: Plan, incident: Incident): string {
  if (incident.about.length === 0) return 'the whole rack';
  const refs = incidentRefs(plan, incident);
  return refs.length > 0 ? sayThings(plan, refs) : 'no longer there';
}
