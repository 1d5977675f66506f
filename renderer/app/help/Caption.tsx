import { useEffect } from 'react';
import type { Stage } from '../../../shared-types/notice';
import { useSession, useStores } from '../../store/context';
import type { Captions } from '../../store/sessionStore';
import { Button } from '../../ui';
import { captionWords } from './captionWords';

/** What a stage is for, at its first visit only; it is over when it is closed or the stage is left. */
export function Caption({ stage }: { stage: Stage }) {
  const { session } = useStores();
  const captions = useSession((s) => s.captions);
  const due = captions.on && !captions.seen.includes(stage);
  useEffect(() => {
    if (!due) return undefined;
    return () => {
      const { captions: now, setCaptions } = session.getState();
      if (!now.seen.includes(stage)) setCaptions({ ...now, seen: [...now.seen, stage] });
    };
  }, [due, stage, session]);
  if (!due) return null;
  const answer = (next: Captions) => {
    // What was pressed goes: the keyboard stands on the stage then.
    document.querySelector<HTMLElement>('.rail [aria-current="step"]')?.focus();
    session.getState().setCaptions(next);
  };
  return (
    <div className="caption" role="note" aria-label="Caption" data-testid="caption">
      <p>{captionWords[stage]}</p>
      <div className="caption-answers">
        <Button
          tone="quiet"
          onClick={() => answer({ ...captions, seen: [...captions.seen, stage] })}
          title="Help shows it again"
        >
          Close
        </Button>
        <Button
          tone="quiet"
          onClick={() => answer({ ...captions, on: false })}
          title="Help turns them on again"
        >
          No captions
        </Button>
      </div>
    </div>
  );
}
