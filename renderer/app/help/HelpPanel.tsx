import { useEffect, useId, useRef } from 'react';
import { helpLabels } from '../../../shared-types/window/help';
import { useSession } from '../../store/context';
import type { HelpPage } from '../../store/sessionStore';
import { Button } from '../../ui';
import { GlossaryPage } from './GlossaryPage';
import { KeysPage } from './KeysPage';
import { StepsPage } from './StepsPage';

/** The help beside the work: it covers no part of the stage's own panel, and Escape closes it. */
export function HelpPanel() {
  const help = useSession((s) => s.help);
  return help === null ? null : <Panel key={help.page} page={help.page} />;
}

const pages = {
  'help-steps': StepsPage,
  'help-keys': KeysPage,
  'help-glossary': GlossaryPage,
} as const satisfies Readonly<Record<HelpPage, unknown>>;

function Panel({ page }: { page: HelpPage }) {
  const showHelp = useSession((s) => s.showHelp);
  const title = useId();
  const heading = useRef<HTMLHeadingElement>(null);
  const from = useCalledFrom();
  useEffect(() => heading.current?.focus(), []);
  const close = () => {
    showHelp(null);
    from()?.focus();
  };
  const Page = pages[page];
  return (
    <section
      className="help-panel"
      aria-labelledby={title}
      data-testid="help-panel"
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        close();
      }}
    >
      <header>
        <h2 id={title} ref={heading} tabIndex={-1}>
          {helpLabels[page]}
        </h2>
        <Button tone="quiet" onClick={close}>
          Close
        </Button>
      </header>
      <div className="help-page" tabIndex={0} role="group" aria-labelledby={title}>
        <Page />
      </div>
    </section>
  );
}

/** Where the keyboard was when the help was called, if that is still there. */
function useCalledFrom(): () => HTMLElement | null {
  const called = useRef<Element | null>(null);
  called.current ??= document.activeElement;
  return () => {
    const { current } = called;
    const here = current instanceof HTMLElement && current.isConnected && current !== document.body;
    return here ? current : document.querySelector<HTMLElement>('[data-testid="help"]');
  };
}
