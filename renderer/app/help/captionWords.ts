import type { Stage } from '../../../shared-types/notice';

/** What a stage is for, in a sentence or two, said at its first visit. */
export const captionWords: Readonly<Record<Stage, string>> = {
  rack: 'Draw the rack as it stands: shelves, trays, pots and lamps. Select anything to change its figures here.',
  light: 'The light at every pot, estimated from your lamps. A few meter readings make it surer.',
  flood:
    'Whether every tray fills to its roots and drains in time, and what the shelves then weigh.',
  trial:
    'Say what you compare. The program tells, before you plant, whether this trial can answer.',
  layout: 'Chance gives every pot its treatment. The same seed always gives the same layout.',
  chart: 'Pages for the rack: which plant goes where, labels for the pots, sheets to write on.',
  records: 'Weights and counts in walking order. Type, press Enter, go on; slips are asked about.',
  findings: 'What differed, by how much and how sure.',
};
