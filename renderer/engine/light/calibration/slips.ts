/** Slips of unit or decimal point that a reading far from the estimate looks like. */
export const slipKinds = ['ten-times', 'a-tenth', 'lux-as-ppfd', 'ppfd-as-lux'] as const;
export type SlipKind = (typeof slipKinds)[number];

/**
 * Between which shares of the estimate a reading with that slip lies. Sound lamps give 0.5 to 1.5 times
 * their figures; a lux meter shows 50 to 80 times the PPFD of white light.
 */
const WINDOWS: Record<SlipKind, { lowest: number; highest: number }> = {
  'ten-times': { lowest: 5, highest: 15 },
  'a-tenth': { lowest: 1 / 15, highest: 1 / 5 },
  'lux-as-ppfd': { lowest: 25, highest: 120 },
  'ppfd-as-lux': { lowest: 1 / 120, highest: 1 / 25 },
};

/** In words that follow "looks like" or "look like". */
export const slipWords: Record<SlipKind, string> = {
  'ten-times': 'ten times the value (a decimal point)',
  'a-tenth': 'a tenth of the value (a decimal point)',
  'lux-as-ppfd': 'lux typed as PPFD',
  'ppfd-as-lux': 'PPFD typed as lux',
};

/** The slip that a share of the estimate looks like, for a reading of that unit; null for none. */
export function slipOf(share: number, unit: 'ppfd' | 'lux'): SlipKind | null {
  const possible = slipKinds.filter((kind) => fits(kind, unit));
  return (
    possible.find((kind) => share >= WINDOWS[kind].lowest && share <= WINDOWS[kind].highest) ?? null
  );
}

function fits(kind: SlipKind, unit: 'ppfd' | 'lux'): boolean {
  switch (kind) {
    case 'ten-times':
    case 'a-tenth':
      return true;
    case 'lux-as-ppfd':
      return unit === 'ppfd';
    case 'ppfd-as-lux':
      return unit === 'lux';
    default:
      return kind satisfies never;
  }
}
