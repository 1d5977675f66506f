import { describe, expect, it } from 'vitest';
import { findSlips, potsInOrder } from '../../../renderer/document/records';
import { potsToMeasure } from '../../../renderer/document/queries';
import type { Plan } from '../../../shared-types/plan';
import { example } from '../../builders/examplePlans';

const basil = example('basil');
const pots = potsInOrder(potsToMeasure(basil), 'rows', () => null);
const idOf = new Map(pots.map(({ id, code }) => [code, id]));

/** The sound plan of basil with some values of its harvest entered otherwise. */
function withValues(measurementId: string, entries: Readonly<Record<string, number>>): Plan {
  const byPot = { ...basil.records.values[measurementId] };
  for (const [code, value] of Object.entries(entries)) byPot[idOf.get(code) ?? ''] = value;
  const values = { ...basil.records.values, [measurementId]: byPot };
  return { ...basil, records: { ...basil.records, values } };
}

const of = (code: string, measurementId = 'm62'): number =>
  basil.records.values[measurementId]?.[idOf.get(code) ?? ''] ?? NaN;

const known = new Set(findSlips(basil).map(({ text }) => text));
const saidOf = (plan: Plan): string[] =>
  findSlips(plan).flatMap(({ text }) => (known.has(text) ? [] : [text]));

/** What was slipped, where, and what is said first; null: nothing, for the slip fits as well. */
const SLIPS: readonly [
  what: string,
  measurementId: string,
  entries: Record<string, number>,
  says: RegExp | null,
][] = [
  ['point left out', 'm62', { '1A-B2': 324 }, /^1A-B2.* outside 5 to 120/],
  ['point left out, large plant', 'm62', { '1B-B4': 552 }, /.* outside 5 to 120/],
  ['point one place too early', 'm62', { '1B-C3': 4.52 }, /.* outside 5 to 120/],
  ['point early, still in range', 'm62', { '1B-D4': 5.19 }, /.*A point may have slipped/],
  ['kilograms for grams', 'm62', { '1A-C3': 0.0388 }, /.* outside 5 to 120/],
  ['nought too many', 'm62', { '1B-A4': 457 }, /.* outside 5 to 120/],
  ['digits swapped', 'm62', { '1B-D4': 15.9 }, /.* 51\.9 g would fit\. Were two digits swapped/],
  ['digits swapped upwards', 'm62', { '1A-D2': 92.7 }, /.* 29\.7 g would fit\. Were two digits/],
  ['digits swapped, still likely', 'm62', { '1A-E2': 23.6 }, null],
  ['digits swapped behind the point', 'm62', { '1B-A1': 40.3 }, null],
  ['key struck twice', 'm62', { '1A-E1': 331 }, /.* outside 5 to 120/],
  ['key not struck', 'm62', { '1B-B2': 9.9 }, /.* is far from the 47\.05 g/],
  [
    'pots exchanged',
    'm62',
    { '3B-D3': of('3B-D4'), '3B-D4': of('3B-D3') },
    /54\.6 g and 39\.3 g in 3B-D4 would both fit if exchanged\. Was the wrong row or pot read/,
  ],
  [
    'wrong row read, both still likely',
    'm62',
    { '1A-C2': of('1A-D2'), '1A-D2': of('1A-C2') },
    null,
  ],
  ['pot beside once more', 'm62', { '1A-D2': of('1A-D3') }, /same as in 1A-D3 beside it/],
  ['count with digits swapped', 'm63', { '1A-F3': 73 }, /.* 37 leaves would fit\. Were two digits/],
  ['count with a nought too many', 'm63', { '1A-B3': 400 }, /.* outside 2 to 150/],
  ['count that is not whole', 'm63', { '1A-B3': 39.5 }, /.* is a count but not whole/],
  ['weight below its start', 'm62', { '1B-A3': 8.1 }, /8\.1 g/],
  ['two plants on the pan', 'm62', { '1A-B3': 86.6 }, /86\.6 g/],
];

describe('twenty slips at the balance', () => {
  it.each(SLIPS)('%s', (_what, measurementId, entries, says) => {
    const said = saidOf(withValues(measurementId, entries));
    if (says === null) expect(said).toEqual([]);
    else expect(said[0] ?? 'nothing').toMatch(says);
  });
});
