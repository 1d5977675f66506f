import { useState } from 'react';
import { noticesOf } from '../derive';
import { usePlanStore, useSession } from '../store/context';
import { SeverityMark } from '../ui';
import { NoticesPanel } from './NoticesPanel';

/** What the pointer is over, what was refused, and the notices. */
export function Strip() {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const refusal = usePlanStore((s) => s.lastRefusal);
  const hover = useSession((s) => s.hover);
  const [open, setOpen] = useState(false);
  if (!plan) return null;
  const notices = noticesOf(plan);
  const count = (severity: 'stop' | 'warn' | 'note') =>
    notices.filter((n) => n.severity === severity && n.accepted === undefined).length;
  return (
    <>
      {open ? <NoticesPanel notices={notices} onClose={() => setOpen(false)} /> : null}
      <footer className="strip">
        {refusal ? (
          <span className="strip-hover strip-refusal" role="alert">
            {refusal}
          </span>
        ) : (
          <span className="strip-hover" data-testid="strip-hover">
            {hover ?? 'Point at anything on the rack to read what it is.'}
          </span>
        )}
        <button
          type="button"
          className="strip-notices"
          data-testid="open-notices"
          aria-expanded={open}
          onClick={() => setOpen(!open)}
        >
          {(['stop', 'warn', 'note'] as const).map((severity) =>
            count(severity) > 0 ? (
              <span key={severity} className="legend-item">
                <SeverityMark severity={severity} size={14} /> {count(severity)}
              </span>
            ) : null,
          )}
          <span>{notices.length === 0 ? 'No notices' : 'Notices'}</span>
        </button>
      </footer>
    </>
  );
}
