/**
 * The names of all messages between the window and the desktop shell. They stand apart from the
 * schemas in `ipc.ts`, because the preload needs the names and must stay small.
 */
export const channelNames = [
  'open',
  'openRecent',
  'recentPlans',
  'save',
  'saveAs',
  'exportText',
  'print',
  'savePdf',
  'keepForRecovery',
  'recoveries',
  'forgetRecovery',
  'holdFile',
  'setUnsaved',
  'listening',
  'workKept',
  'about',
  'noteError',
] as const;

/** Messages to the window that it did not ask for. */
export const eventNames = ['openRequest', 'openFailed', 'menu', 'keepNow'] as const;

export type Channel = (typeof channelNames)[number];
export type EventName = (typeof eventNames)[number];
