import { useEffect, useState } from 'react';
import type { Notice } from '../../../shared-types/notice';
import { useActAndShow } from '../../canvas';
import { acceptNotice, withdrawAcceptance } from '../../document/commands';
import { remedyOf } from '../../derive';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, EmptyState, isDialogOpen, SeverityMark, TextField } from '../../ui';

/** All notices, worst first. A click goes to the thing; a reason accepts. */
export function NoticesPanel(props: { notices: readonly Notice[]; onClose: () => void }) {
  const { onClose } = props;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape' && !isDialogOpen()) onClose();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [onClose]);
  return (
    <aside className="notices-panel" aria-label="Notices" data-testid="notices">
      <header>
        <h3>Notices</h3>
        <Button tone="quiet" onClick={onClose}>
          Close
        </Button>
      </header>
      {props.notices.length === 0 ? (
        <EmptyState title="Nothing stands out">
          What a stage finds wrong or doubtful is listed here.
        </EmptyState>
      ) : (
        <ul className="notices-list">
          {props.notices.map((notice) => (
            <NoticeItem key={`${notice.kind} ${notice.about.join(' ')}`} notice={notice} />
          ))}
        </ul>
      )}
    </aside>
  );
}

function NoticeItem({ notice }: { notice: Notice }) {
  const dispatch = useDispatch();
  const doAndShow = useActAndShow();
  const goTo = useSession((s) => s.goTo);
  const select = useSession((s) => s.select);
  const plan = usePlanStore((s) => s.plan);
  const act = plan ? remedyOf(notice, plan) : null;
  const [accepting, setAccepting] = useState(false);
  const key = { kind: notice.kind, about: notice.about };
  return (
    <li className="notice" data-kind={notice.kind}>
      <SeverityMark severity={notice.severity} />
      <div className="notice-body">
        <p>{notice.text}</p>
        <p className="notice-remedy">{notice.remedy}</p>
        {notice.accepted !== undefined ? <p>Accepted: {notice.accepted}</p> : null}
        <div className="notice-actions">
          {act ? (
            <Button
              data-testid={`act-${notice.kind}`}
              onClick={() => doAndShow(act.command, notice.stage)}
            >
              {act.label}
            </Button>
          ) : null}
          <Button
            onClick={() => {
              goTo(notice.stage);
              select(notice.about.filter((ref) => /^(shelf|tray|lamp|board|pot):/.test(ref)));
            }}
          >
            Go there
          </Button>
          {notice.accepted !== undefined ? (
            <Button tone="quiet" onClick={() => dispatch(withdrawAcceptance, key)}>
              Take back acceptance
            </Button>
          ) : accepting ? (
            <TextField
              label="Reason, printed in the report"
              value=""
              longest={2000}
              onCommit={(reason) => {
                dispatch(acceptNotice, { ...key, reason, date: null });
                setAccepting(false);
              }}
            />
          ) : (
            <Button tone="quiet" onClick={() => setAccepting(true)}>
              Accept with a reason…
            </Button>
          )}
        </div>
      </div>
    </li>
  );
}
