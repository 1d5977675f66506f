/** What the help menu offers, in its order: in the window's bar and in the system's menu. */
export const helpEntries = [
  'help-steps',
  'help-keys',
  'help-glossary',
  'help-captions',
  'about',
] as const;

export type HelpEntry = (typeof helpEntries)[number];

export const helpLabels: Readonly<Record<HelpEntry, string>> = {
  'help-steps': 'First trial in ten steps',
  'help-keys': 'Keys',
  'help-glossary': 'Glossary',
  'help-captions': 'Captions of the stages again',
  about: 'About Evenrack',
};
