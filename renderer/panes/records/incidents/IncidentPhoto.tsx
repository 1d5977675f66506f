import { useRef, useState } from 'react';
import type { Incident } from '../../../../shared-types/records';
import { editIncident } from '../../../document/commands';
import { useDispatch } from '../../../store/context';
import { Button, Dialog } from '../../../ui';
import { reasonOf, sayDay } from '../../../words';
import { reducedPhoto } from './reducedPhoto';

/** The photo of an incident: looked at large, added later, changed or taken away. */
export function IncidentPhoto(props: { incident: Incident; say: (text: string) => void }) {
  const { incident, say } = props;
  const dispatch = useDispatch();
  const [seen, setSeen] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  const set = (photo: string | null) => {
    const done = dispatch(editIncident, { incidentId: incident.id, patch: { photo } });
    if (!done.ok) say(done.reason);
  };
  const name = `${sayDay(incident.date)}: ${incident.text}`;
  if (incident.kept && !incident.photo) return <span />;
  return (
    <>
      <input
        ref={input}
        hidden
        type="file"
        accept="image/*"
        aria-label={`Photo of ${name}`}
        data-testid="incident-photo-later"
        onChange={({ target }) => {
          const [file] = target.files ?? [];
          target.value = '';
          if (file) reducedPhoto(file).then(set, (error: unknown) => say(reasonOf(error)));
        }}
      />
      {/* One button whether or not there is a photo: the focus stays when one comes or goes. */}
      <Button
        tone="quiet"
        aria-label={incident.photo ? undefined : `Add a photo to ${name}`}
        onClick={() => (incident.photo ? setSeen(true) : input.current?.click())}
      >
        {incident.photo ? (
          <img
            className="incident-thumbnail"
            src={incident.photo}
            alt={`Photo of ${incident.text}`}
          />
        ) : (
          'Photo…'
        )}
      </Button>
      {seen && incident.photo ? (
        <Dialog
          title={name}
          wide
          testId="incident-photo-dialog"
          onClose={() => setSeen(false)}
          actions={
            <>
              {incident.kept ? null : (
                <>
                  <Button
                    onClick={() => {
                      setSeen(false);
                      set(null);
                    }}
                  >
                    Remove the photo
                  </Button>
                  <Button onClick={() => input.current?.click()}>Another photo…</Button>
                </>
              )}
              <Button tone="primary" onClick={() => setSeen(false)}>
                Close
              </Button>
            </>
          }
        >
          <img className="incident-photo is-large" src={incident.photo} alt={incident.text} />
        </Dialog>
      ) : null}
    </>
  );
}
