import type { GlossaryEntry } from './entry';

export const waterTerms = {
  floodDepth: {
    name: 'Flood depth',
    term: 'crest',
    says: 'How high the water stands in the tray when it is fullest. It should reach the roots and not the leaves.',
    phrases: ['flood depth'],
  },
  deadVolume: {
    name: 'Unusable volume',
    term: 'dead volume',
    says: 'Water at the bottom of the reservoir that the pump cannot reach.',
  },
  zone: {
    name: 'Zone',
    term: 'flood zone',
    says: 'The trays that one pump floods together from one reservoir. They share their water and all that is in it.',
    phrases: ['zone', 'zones'],
  },
  head: {
    name: 'Head',
    says: 'How high the pump must lift the water. The higher, the less it delivers.',
    phrases: ['head in', 'pump curve'],
  },
  siphon: {
    name: 'Siphon',
    says: 'A drain that starts by itself when the water is high enough, and stops only once air gets in.',
    phrases: ['siphon', 'trips from'],
  },
  ratedLoad: {
    name: 'Rated load',
    says: 'What the shelf may carry by its maker, with trays, pots, media and the water of a flood.',
    phrases: ['rated load', 'load on the shelves'],
  },
  ec: {
    name: 'EC',
    term: 'electrical conductivity',
    says: 'How much current the feed carries, in mS/cm: a measure of how much salt is dissolved in it.',
  },
} as const satisfies Record<string, GlossaryEntry>;
