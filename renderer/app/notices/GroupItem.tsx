import { useEffect, useRef, useState, type ReactNode } from 'react';
import type { Notice } from '../../../shared-types/notice';
import { useActAndShow } from '../../canvas';
import { remedyOf, type NoticeGroup } from '../../derive';
import { bind, together } from '../../document';
import { acceptNotice, withdrawAcceptance } from '../../document/commands';
import { useDispatch, usePlanStore, useSession } from '../../store/context';
import { Button, Fold, SeverityMark, TextField } from '../../ui';

/** So many of one kind are told at once; the others are folded away. */
const SHOWN = 3;

/** One thing that is wrong: in one place, or in several with a list of them. */
export function GroupItem({ group }: { group: NoticeGroup }) {
  const { title, severity, notices } = group;
  const [first] = notices;
  const kind = first.kind;
  const sameRemedy = notices.every(({ remedy }) => remedy === first.remedy);
  const several = notices.length > 1;
  const item = (notice: Notice) => (
    <PlaceItem key={notice.about.join(' ')} notice={notice} remedy={!several || !sameRemedy}>
      {several ? null : <Acceptance group={group} />}
    </PlaceItem>
  );
  const [shown, folded] = [notices.slice(0, SHOWN), notices.slice(SHOWN)];
  return (
    <li className="notice-group" data-kind={kind}>
      <SeverityMark severity={severity} />
      <div className="notice-body">
        <strong>{title}</strong>
        {shown.map(item)}
        {folded.length > 0 ? (
          <Fold title={`${folded.length} more`}>{() => <>{folded.map(item)}</>}</Fold>
        ) : null}
        {several && sameRemedy ? <p className="notice-remedy">{first.remedy}</p> : null}
        {several ? <Acceptance group={group} /> : null}
      </div>
    </li>
  );
}

/** What is wrong in one place, with the way there and what mends it. */
function PlaceItem(props: { notice: Notice; remedy: boolean; children: ReactNode }) {
  const { notice, remedy } = props;
  const doAndShow = useActAndShow();
  const goTo = useSession((s) => s.goTo);
  const select = useSession((s) => s.select);
  const plan = usePlanStore((s) => s.plan);
  const act = plan && notice.accepted === undefined ? remedyOf(notice, plan) : null;
  return (
    <div className="notice" data-kind={notice.kind}>
      <p>{notice.text}</p>
      {remedy ? <p className="notice-remedy">{notice.remedy}</p> : null}
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
          tone={act ? 'quiet' : 'plain'}
          onClick={() => {
            goTo(notice.stage);
            select(notice.about.filter((ref) => /^(shelf|tray|lamp|board|pot):/.test(ref)));
          }}
        >
          Go there
        </Button>
        {props.children}
      </div>
    </div>
  );
}

/** A reason accepts all of a group; taking it back does so for each. */
function Acceptance({ group: { notices, accepted } }: { group: NoticeGroup }) {
  const dispatch = useDispatch();
  const [accepting, setAccepting] = useState(false);
  const field = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (accepting) field.current?.querySelector('input')?.focus();
  }, [accepting]);
  const keys = notices.map(({ kind, about }) => ({ kind, about }));
  const all = notices.length > 1 ? ` all ${notices.length}` : '';
  if (accepted) {
    const reasons = [...new Set(notices.map((notice) => notice.accepted))];
    const back = together(
      () => 'Take back acceptance',
      keys.map((key) => bind(withdrawAcceptance, key)),
    );
    return (
      <div className="notice-actions">
        <span>Accepted: {reasons.join('; ')}</span>
        <Button tone="quiet" onClick={() => dispatch(back, null)}>
          Take back acceptance
        </Button>
      </div>
    );
  }
  if (!accepting) {
    return (
      <div className="notice-actions">
        <Button tone="quiet" onClick={() => setAccepting(true)}>
          Accept{all} with a reason…
        </Button>
      </div>
    );
  }
  return (
    <div ref={field}>
      <TextField
        label="Reason, printed in the report"
        value=""
        longest={2000}
        onCommit={(reason) => {
          const accept = together(
            () => `Accept ${notices.length} notices`,
            keys.map((key) => bind(acceptNotice, { ...key, reason, date: null })),
          );
          dispatch(accept, null);
          setAccepting(false);
        }}
      />
    </div>
  );
}
