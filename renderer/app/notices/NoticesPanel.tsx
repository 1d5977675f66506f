import { useEffect, useRef } from 'react';
import type { Notice } from '../../../shared-types/notice';
import { noticeSections, type NoticeSection } from '../../derive';
import { useSession } from '../../store/context';
import { Button, EmptyState, isDialogOpen } from '../../ui';
import { stageOrder } from '../stages/stageOrder';
import { GroupItem } from './GroupItem';

const titleOf = (of: NoticeSection['of']): string =>
  of === 'answer'
    ? 'What stops the answer'
    : (stageOrder.find(({ stage }) => stage === of)?.label ?? of);

/** All notices: what stops the answer first, then by stage; null: not looked for yet. */
export function NoticesPanel(props: { notices: readonly Notice[] | null; onClose: () => void }) {
  const { notices, onClose } = props;
  const stage = useSession((s) => s.stage);
  const panel = useRef<HTMLElement>(null);
  useEffect(() => panel.current?.focus(), []);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape' && !isDialogOpen()) onClose();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [onClose]);
  return (
    <aside
      ref={panel}
      className="notices-panel"
      aria-label="Notices"
      data-testid="notices"
      tabIndex={-1}
    >
      <header>
        <h3>Notices</h3>
        <Button tone="quiet" onClick={onClose}>
          Close
        </Button>
      </header>
      <div className="notices-list">
        {notices === null ? (
          <EmptyState title="Notices follow">
            They are looked for once the light of all shelves is worked out.
          </EmptyState>
        ) : notices.length === 0 ? (
          <EmptyState title="Nothing stands out">
            What a stage finds wrong or doubtful is listed here.
          </EmptyState>
        ) : (
          noticeSections(notices).map(({ of, groups }) => (
            <section key={of} aria-label={titleOf(of)} data-testid={`notices-${of}`}>
              <h4 className="notices-section">
                {titleOf(of)}
                {of === stage ? <span className="notices-here"> this stage</span> : null}
              </h4>
              <ul>
                {groups.map((group) => (
                  <GroupItem key={group.key} group={group} />
                ))}
              </ul>
            </section>
          ))
        )}
      </div>
    </aside>
  );
}
