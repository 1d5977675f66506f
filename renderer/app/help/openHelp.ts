import { helpEntries, type HelpEntry } from '../../../shared-types/window/help';
import type { SessionState } from '../../store/sessionStore';

/** What an entry of the help menu does, in the bar and in the system's menu. */
export function openHelp(
  entry: HelpEntry,
  session: Pick<SessionState, 'showHelp' | 'showAbout' | 'setCaptions'>,
): void {
  if (entry === 'help-captions') session.setCaptions({ on: true, seen: [] });
  else if (entry === 'about') session.showAbout(true);
  else session.showHelp(entry);
}

export const isHelpEntry = (action: string): action is HelpEntry =>
  helpEntries.some((entry) => entry === action);
