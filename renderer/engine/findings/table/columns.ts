import type { Factor } from '../../../../shared-types/trial/trial';

export const COLUMN = {
  response: 'response',
  run: 'run',
  start: 'starting value',
  ppfd: 'light at the pot',
  depth: 'depth of water',
  edge: 'place',
  block: 'block',
  shelf: 'shelf',
  zone: 'reservoir',
  bay: 'bay',
  tray: 'tray',
  'row-strip': 'strip of rows',
  'column-strip': 'strip of columns',
  row: 'row',
  column: 'column',
  'grid-row': 'row of the square',
  'grid-column': 'column of the square',
  'shelf-place': 'place on the shelf',
  pot: 'pot',
} as const;

/** Units that stay on the rack while the runs come and go, where several are taken together. */
export const ON_RACK = {
  shelf: 'shelf on the rack',
  zone: 'reservoir on the rack',
  bay: 'bay on the rack',
  tray: 'tray on the rack',
} as const;

/** What a row of adjusted means holds beside its levels, and what a result calls by itself. */
const FIGURES = [
  'mean',
  'se',
  'df',
  'lower',
  'upper',
  'day',
  'backTransformed',
  'backTransformedLower',
  'backTransformedUpper',
  'residual',
  '(intercept)',
  '__proto__',
];

/**
 * The column of each factor, by its id. A factor may bear the name of one of our own columns or
 * figures, or hold the sign that crosses two factors; a fit must not confuse them.
 */
export function columnNames(factors: readonly Factor[]): Map<string, string> {
  const taken = new Set<string>([...Object.values(COLUMN), ...Object.values(ON_RACK), ...FIGURES]);
  const names = new Map<string, string>();
  for (const factor of factors) {
    let name = factor.name.replaceAll(' × ', ' x ');
    while (taken.has(name)) name = `${name} (factor)`;
    taken.add(name);
    names.set(factor.id, name);
  }
  return names;
}
