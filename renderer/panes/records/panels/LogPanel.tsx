import { useState } from 'react';
import type { Plan } from '../../../../shared-types/plan';
import type { Incident } from '../../../../shared-types/records';
import { editIncident, removeIncident } from '../../../document/commands';
import { incidentRefs, sayThings } from '../../../document/queries';
import { useDispatch, useSession } from '../../../store/context';
import { Button, Problem } from '../../../ui';
import { IncidentForm } from '../incidents/IncidentForm';
import { IncidentPhoto } from '../incidents/IncidentPhoto';
import { sayDay } from '../../../words';

/** The dated log: what happened, when, and to which trays or pots. */
export function LogPanel({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const select = useSession((s) => s.select);
  const [problem, setProblem] = useState<string | null>(null);
  const log = [...plan.records.incidents].sort((a, b) => (a.date < b.date ? 1 : -1));
  return (
    <div className="records-form" data-testid="log-panel">
      <IncidentForm plan={plan} />
      <Problem text={problem} />
      {log.length === 0 ? <p className="field-remark">Nothing has been written down yet.</p> : null}
      <ul className="records-log" data-testid="incidents">
        {log.map((incident) => (
          <li key={incident.id}>
            <span className="records-day">{sayDay(incident.date)}</span>
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
            <IncidentPhoto incident={incident} say={setProblem} />
            <Button tone="quiet" onClick={() => select(incidentRefs(plan, incident))}>
              {aboutText(plan, incident)}
            </Button>
            {incident.kept ? null : (
              <Button
                tone="quiet"
                aria-label={`Remove the incident of ${sayDay(incident.date)}`}
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
      aria-label={`What happened on ${sayDay(incident.date)}`}
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

function aboutText(plan: Plan, incident: Incident): string {
  if (incident.about.length === 0) return 'the whole rack';
  const refs = incidentRefs(plan, incident);
  return refs.length > 0 ? sayThings(plan, refs) : 'no longer there';
}
