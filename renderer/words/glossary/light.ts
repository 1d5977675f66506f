import { sources, type GlossaryEntry } from './entry';

export const lightTerms = {
  ppfd: {
    name: 'PPFD',
    term: 'photosynthetic photon flux density',
    says: 'How much light a pot gets at a moment: photons that plants can use, 400 to 700 nm, per square metre and second.',
    source: sources.light,
  },
  dli: {
    name: 'DLI',
    term: 'daily light integral',
    says: 'How much light a pot gets in a whole day: PPFD added up over the hours the lamps are on.',
    source: sources.light,
  },
  photonFlux: {
    name: 'Photon flux',
    says: 'All photons of 400 to 700 nm that a lamp gives in a second, in every direction.',
    source: sources.light,
  },
  efficacy: {
    name: 'Efficacy',
    term: 'photosynthetic photon efficacy',
    says: 'Photons a lamp gives for each joule of electricity. More micromoles per joule, less heat and cost.',
    source: sources.light,
  },
  luminousFlux: {
    name: 'Luminous flux',
    says: 'Light as the eye weighs it, in lumens. Turning it into photons needs the spectrum, so it carries a larger ±.',
    source: sources.lighting,
    phrases: ['luminous flux', 'lux per PPFD'],
  },
  hoursADay: {
    name: 'Hours a day',
    term: 'photoperiod',
    says: 'How long the lamps are on in a day. With the PPFD it makes the DLI.',
    source: sources.light,
  },
  evenness: {
    name: 'min : mean',
    term: 'uniformity',
    says: 'The darkest pot’s light divided by the mean of all. 1 is perfectly even; four fifths is good on a shelf.',
    source: sources.lighting,
  },
  variation: {
    name: 'CV',
    term: 'coefficient of variation',
    says: 'The standard deviation in per cent of the mean: how much pots differ for their size.',
    source: sources.statistics,
  },
  beam: {
    name: 'Beam',
    term: 'intensity distribution',
    says: 'In which directions a lamp sends its light: wide from a bare strip, narrow from a spot with a lens.',
    source: sources.lighting,
    phrases: ['beam', 'intensity distribution', 'full angle at half peak'],
  },
  reflectance: {
    name: 'Reflecting sides',
    term: 'reflectance',
    says: 'The share of light a surface sends back: white board about 85 %, bare wall 50 %, an open side none.',
    source: sources.lighting,
  },
  canopy: {
    name: 'Canopy',
    says: 'The height at which leaves catch the light. Light is computed there, and it rises as plants grow.',
    phrases: ['canopy'],
  },
  calibration: {
    name: 'Meter readings',
    term: 'calibration',
    says: 'Where a meter was read, the estimate is scaled to agree with it. Elsewhere the figure stays an estimate.',
    phrases: ['meter readings', 'calibrated'],
  },
  plusMinus: {
    name: '±',
    term: 'uncertainty',
    says: 'How far the true figure may lie on either side, 19 times in 20.',
    source: 'JCGM 100, guide to the expression of uncertainty in measurement',
    phrases: ['uncertainty', '±'],
  },
  bay: {
    name: 'Bay',
    says: 'The part of a shelf that shares its lamps: the whole shelf, or what lies between two opaque boards.',
    phrases: ['bay', 'bays'],
  },
  rota: {
    name: 'Rota',
    says: 'A plan of moving trays about, so that each spends its time in bright and dim places alike.',
    phrases: ['rota', 'moving the trays about'],
  },
} as const satisfies Record<string, GlossaryEntry>;
