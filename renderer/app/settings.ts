import { z } from 'zod';
import { papers, usualPaper } from '../../shared-types/paper';
import type { Settings } from '../host';
import { PRINT_OPTIONS, printOptionsWith, readLabels } from '../panes/chart';
import type { PrintOptions } from '../print';
import { createSessionStore, type SessionStore } from '../store/sessionStore';

const THEME = 'theme';
const PAPER = 'paper';
const LABELS = 'labels';

const theme = z.enum(['light', 'dark', 'system']).catch('system');

/**
 * A session that begins with what was chosen on this computer: appearance, paper, sheet of labels and
 * how far the printer shifts; until a paper is chosen, the one that is usual where `language` is spoken.
 * What else is chosen belongs to the session alone.
 */
export function sessionWith(settings: Settings, language: string): SessionStore {
  const chosenPaper = z.enum(papers).catch(usualPaper(language)).parse(settings.read(PAPER));
  const store = createSessionStore({
    theme: theme.parse(settings.read(THEME)),
    paper: chosenPaper,
  });
  const labels = readLabels(settings.read(LABELS));
  if (labels) store.getState().keep(PRINT_OPTIONS.name, printOptionsWith(chosenPaper, labels));
  store.subscribe((now, before) => {
    if (now.theme !== before.theme) settings.keep(THEME, now.theme);
    if (now.paper !== before.paper) settings.keep(PAPER, now.paper);
    const [chosen, was] = [now, before].map(
      // The pane alone writes under this name.
      ({ kept }) => kept.get(PRINT_OPTIONS.name) as PrintOptions | undefined,
    );
    if (!chosen || chosen.labels === was?.labels) return;
    settings.keep(LABELS, chosen.labels);
    settings.keep(PAPER, chosen.paper);
  });
  return store;
}
