import { useCallback, useRef, useState } from 'react';
import type { Notice } from '../../../shared-types/notice';
import { usePlanStore, useSession } from '../../store/context';
import { Button, SeverityMark } from '../../ui';
import { CorrectionDialog } from './CorrectionDialog';
import { NoticesPanel } from './NoticesPanel';
import { ProblemNote } from './ProblemNote';
import { RefusalNote } from './RefusalNote';

/** What the pointer is over, what was refused, and the notices. */
export function Strip(props: {
  /** null: not looked for yet. */
  notices: readonly Notice[] | null;
  /** What went wrong with a file. */
  problem: string | null;
  /** Why no notices can be listed. */
  unjudged: string | null;
  onRead: () => void;
}) {
  const { notices } = props;
  const refusal = usePlanStore((s) => s.lastRefusal);
  const hover = useSession((s) => s.hover);
  const toCorrect = usePlanStore((s) => s.toCorrect);
  const leave = usePlanStore((s) => s.leaveUncorrected);
  const [correcting, setCorrecting] = useState(false);
  const [open, setOpen] = useState(false);
  const opener = useRef<HTMLButtonElement>(null);
  const close = useCallback(() => {
    setOpen(false);
    opener.current?.focus();
  }, []);
  const count = (severity: 'stop' | 'warn' | 'note') =>
    (notices ?? []).filter((n) => n.severity === severity && n.accepted === undefined).length;
  return (
    <>
      {correcting && toCorrect ? (
        <CorrectionDialog
          onClose={() => {
            setCorrecting(false);
            leave();
          }}
        />
      ) : null}
      {props.problem ? <ProblemNote text={props.problem} onRead={props.onRead} /> : null}
      <RefusalNote onCorrect={() => setCorrecting(true)} />
      {open ? <NoticesPanel notices={notices} onClose={close} /> : null}
      <footer className="strip">
        {props.unjudged ? (
          <span className="strip-hover strip-refusal" role="alert">
            {props.unjudged}
          </span>
        ) : toCorrect ? (
          <>
            <span className="strip-hover strip-refusal">{toCorrect.reason}</span>
            <Button data-testid="correct-it" onClick={() => setCorrecting(true)}>
              Correct it…
            </Button>
            <Button tone="quiet" onClick={leave}>
              Leave it
            </Button>
          </>
        ) : refusal ? (
          <span className="strip-hover strip-refusal">{refusal}</span>
        ) : (
          <span
            className="strip-hover"
            role="status"
            // The rack says by itself what the keyboard selects.
            aria-live="off"
            data-testid="strip-hover"
          >
            {hover ?? 'Point at anything on the rack to read what it is.'}
          </span>
        )}
        <button
          type="button"
          className="strip-notices"
          ref={opener}
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
          <span>{labelFor(notices)}</span>
        </button>
      </footer>
    </>
  );
}

function labelFor(notices: readonly Notice[] | null): string {
  if (notices === null) return 'Notices follow';
  return notices.length === 0 ? 'No notices' : 'Notices';
}
