import { useEffect, useState } from 'react';
import type { Host, RecentPlan } from '../../host/host';
import { HelpMenu } from '../help/HelpMenu';
import { RecentPlans } from './RecentPlans';
import { Wordmark } from '../Wordmark';
import { reasonOf } from '../../words';

export interface StartActions {
  openExample: (name: string) => void;
  quickStart: () => void;
  newPlan: () => void;
  openFile: () => void;
  openRecent: (recent: RecentPlan) => void;
  startFrom: (recent: RecentPlan) => void;
  showCopies: () => void;
}

/** First start: the demo, an empty rack, or an existing plan. */
export function StartScreen(props: {
  host: Host;
  actions: StartActions;
  examples: readonly { name: string; title: string; about: string }[];
  problem: string | null;
  /** Copies of unsaved work that wait to be used or thrown away. */
  copies: number;
}) {
  const [recents, setRecents] = useState<RecentPlan[]>([]);
  const { host, actions } = props;
  useEffect(() => {
    let current = true;
    host.recentPlans().then(
      (list) => {
        if (current) setRecents(list);
      },
      (error: unknown) => void reasonOf(error),
    );
    return () => {
      current = false;
    };
  }, [host]);
  return (
    <div className="start-screen">
      <header className="start-head">
        <h1>
          <Wordmark size={30} /> Evenrack
        </h1>
        <HelpMenu />
        <p className="start-lead">
          Did the treatment grow better plants, or did those pots just stand under the lamp?
        </p>
      </header>
      <main className="start-body">
        {props.problem ? (
          <p role="alert" className="strip-refusal">
            {props.problem}
          </p>
        ) : null}
        <div className="start-choices">
          {props.copies > 0 ? (
            <button type="button" className="start-choice" onClick={actions.showCopies}>
              <strong>Unsaved work…</strong>
              <span>
                {props.copies === 1 ? 'One kept copy waits' : `${props.copies} kept copies wait`} to
                be used or thrown away.
              </span>
            </button>
          ) : null}
          <button
            type="button"
            className="start-choice start-first"
            data-testid="quick-start"
            onClick={actions.quickStart}
          >
            <strong>Quick start</strong>
            <span>A rack, a question and a drawn layout from one page.</span>
          </button>
          <button type="button" className="start-choice" onClick={actions.newPlan}>
            <strong>Empty rack</strong>
            <span>Draw your own shelves, trays, pots and lamps.</span>
          </button>
          <button type="button" className="start-choice" onClick={actions.openFile}>
            <strong>Open a plan…</strong>
            <span>A plan file you saved before.</span>
          </button>
        </div>
        {recents.length > 0 ? (
          <RecentPlans
            recents={recents}
            onOpen={actions.openRecent}
            onStartFrom={actions.startFrom}
          />
        ) : null}
        <section aria-label="Examples">
          <h2>Examples</h2>
          <div className="start-choices start-examples">
            {props.examples.map((example) => (
              <button
                key={example.name}
                type="button"
                className="start-choice"
                data-testid={`example-${example.name}`}
                onClick={() => actions.openExample(example.name)}
              >
                <strong>{example.title}</strong>
                <span>{example.about}</span>
              </button>
            ))}
          </div>
        </section>
      </main>
    </div>
  );
}
