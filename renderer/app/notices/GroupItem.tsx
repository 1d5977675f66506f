import { useEffect, useRef, useState, type ReactNode } from 'react';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { useActAndShow } from '../../canvas';
import { remedyOf, type NoticeGroup, type Remedy } from '../../derive';
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
  const plan = usePlanStore((s) => s.plan);
  const actOfAll = plan ? oneActOf(group, plan) : null;
  const item = (notice: Notice) => (
    <PlaceItem
      key={notice.about.join(' ')}
      notice={notice}
      remedy={!several || !sameRemedy}
      act={plan && !actOfAll && notice.accepted === undefined ? remedyOf(notice, plan) : null}
    >
      {several ? null : <Acceptance group={group} />}
    </PlaceItem>
  );
  // Where one press mends all, one of them is told.
  const most = actOfAll ? 1 : SHOWN;
  const [shown, folded] = [notices.slice(0, most), notices.slice(most)];
  return (
    <li className="notice-group" data-kind={kind}>
      <SeverityMark severity={severity} />
      <div className="notice-body">
        <strong>{title}</strong>
        {actOfAll ? (
          <div className="notice-actions">
            <ActButton act={actOfAll} notice={first} />
          </div>
        ) : null}
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

/** Zones that are set alike are mended by one press; null where each place has its own way. */
function oneActOf({ notices, accepted }: NoticeGroup, plan: Plan): Remedy | null {
  const [first, ...others] = notices;
  if (accepted || others.length === 0 || first.stage !== 'flood') return null;
  const act = remedyOf(first, plan);
  const same = others.every((notice) => remedyOf(notice, plan)?.label === act?.label);
  return same ? act : null;
}

function ActButton({ act, notice }: { act: Remedy; notice: Notice }) {
  const doAndShow = useActAndShow();
  return (
    <Button data-testid={`act-${notice.kind}`} onClick={() => doAndShow(act.command, notice.stage)}>
      {act.label}
    </Button>
  );
}

/** What is wrong in one place, with the way there and what mends it. */
function PlaceItem(props: {
  notice: Notice;
  remedy: boolean;
  act: Remedy | null;
  children: ReactNode;
}) {
  const { notice, remedy, act } = props;
  const goTo = useSession((s) => s.goTo);
  const select = useSession((s) => s.select);
  return (
    <div className="notice" data-kind={notice.kind}>
      <p>{notice.text}</p>
      {remedy ? <p className="notice-remedy">{notice.remedy}</p> : null}
      <div className="notice-actions">
        {act ? <ActButton act={act} notice={notice} /> : null}
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
