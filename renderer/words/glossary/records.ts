import type { GlossaryEntry } from './entry';

export const recordTerms = {
  secondEntry: {
    name: 'Second entry',
    says: 'Another person types the same values without seeing the first. Where the two differ, one of them slipped.',
    phrases: ['second entry'],
  },
  tare: {
    name: 'Tare',
    says: 'The weight of what the plant is weighed in, taken off each weight you type.',
    phrases: ['tare'],
  },
  incident: {
    name: 'Incident',
    says: 'Anything that happened and was not planned, such as a dry pump. The report prints it with its date.',
    phrases: ['incident', 'incidents'],
  },
  delivered: {
    name: 'Logged',
    term: 'treatment as delivered',
    says: 'What the units really got, day by day: EC, hours, light. A level that drifts is no longer that level.',
    phrases: ['delivered', 'what was logged'],
  },
  codeToScan: {
    name: 'Code to scan',
    term: 'QR code, Data Matrix',
    says: 'A pattern on the label that a scanner reads as the pot’s code.',
    source: 'ISO/IEC 18004 and ISO/IEC 16022',
    phrases: ['code to scan', 'QR code', 'QR', 'Data Matrix'],
  },
} as const satisfies Record<string, GlossaryEntry>;
