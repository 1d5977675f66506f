/**
 * Treatment colours: the eight of Okabe & Ito (2008), made for colour-blind readers, in an order
 * that keeps neighbours apart in grey. Colour only repeats what letter and pattern already say.
 */
export const treatmentColours = [
  '#0072B2',
  '#E69F00',
  '#009E73',
  '#CC79A7',
  '#56B4E9',
  '#D55E00',
  '#F0E442',
  '#9A9A9A',
] as const;

export const treatmentPatterns = [
  'plain',
  'lines-right',
  'dots',
  'lines-left',
  'cross',
  'level',
  'upright',
  'rings',
] as const;

export type PatternName = (typeof treatmentPatterns)[number];

export interface TreatmentLook {
  colour: string;
  /** Text on the colour. */
  ink: '#000000' | '#ffffff';
  pattern: PatternName;
}

/** Look of the n-th treatment (from 0). After eight the colours repeat with the next pattern. */
export function treatmentLook(index: number): TreatmentLook {
  const colours = treatmentColours;
  const round = Math.floor(index / colours.length);
  const colour = colours[index % colours.length] ?? colours[0];
  const pattern = treatmentPatterns[(index + round) % treatmentPatterns.length] ?? 'plain';
  return { colour, ink: colour === '#0072B2' ? '#ffffff' : '#000000', pattern };
}

// From dim to bright: lightness rises all the way, so that it also reads in grey.
const LIGHT_STOPS: readonly (readonly [number, number, number])[] = [
  [38, 34, 72],
  [66, 62, 122],
  [104, 84, 140],
  [160, 104, 132],
  [209, 137, 110],
  [234, 184, 106],
  [247, 232, 160],
];

// Below to above expectation: blue-violet, pale, ochre; middle is neutral.
const SIGNED_STOPS: readonly (readonly [number, number, number])[] = [
  [52, 60, 138],
  [128, 140, 196],
  [238, 238, 232],
  [214, 158, 84],
  [140, 80, 10],
];

// From little to much: pale to dark earth, lightness falling all the way.
const VALUE_STOPS: readonly (readonly [number, number, number])[] = [
  [250, 244, 232],
  [232, 205, 170],
  [205, 150, 98],
  [158, 92, 42],
  [104, 48, 14],
];

function along(stops: readonly (readonly [number, number, number])[], share: number): string {
  const at = Math.min(1, Math.max(0, share)) * (stops.length - 1);
  const i = Math.min(stops.length - 2, Math.floor(at));
  const a = stops[i] ?? [0, 0, 0];
  const b = stops[i + 1] ?? a;
  const f = at - i;
  const mix = (k: 0 | 1 | 2) => Math.round(a[k] + (b[k] - a[k]) * f);
  return `rgb(${mix(0)} ${mix(1)} ${mix(2)})`;
}

/** Colour of a light level; 0 is the dimmest of the picture, 1 the brightest. */
export function lightColour(share: number): string {
  return along(LIGHT_STOPS, share);
}

/** Colour of a measured value; 0 is the least of the picture, 1 the most. */
export function valueColour(share: number): string {
  return along(VALUE_STOPS, share);
}

/** Colour of a signed value; −1 far below, 0 as expected, 1 far above. */
export function signedColour(value: number): string {
  return along(SIGNED_STOPS, (value + 1) / 2);
}
