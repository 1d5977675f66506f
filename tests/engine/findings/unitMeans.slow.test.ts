import { describe, expect, it } from 'vitest';
import { findingsOfTable, termOf } from '../../../renderer/engine/findings';
import { stream } from '../../../renderer/engine/trial/stream';
import type { DataTable } from '../../../shared-types/fit';
import { tableReading } from '../../builders/tableReading';

const SETS = 600;

type Random = ReturnType<typeof stream>;

/** Poisson by counting exponential waits (Knuth 1969, The Art of Computer Programming 2, 3.4.1). */
function poisson(mean: number, random: Random): number {
  let waited = -Math.log(1 - random.fraction());
  let count = 0;
  for (; waited < mean; count++) waited -= Math.log(1 - random.fraction());
  return count;
}

/** Ten trays of eight pots, feed by tray; trays differ by `sd` on the log scale; some pots died. */
function made(set: number, sd: number, mean: number, ratio: number): DataTable {
  const random = stream('counts on trays', `${set} ${sd} ${mean}`);
  const cells = Array.from({ length: 10 }, (_, tray) => {
    const feed = tray % 2 === 0 ? 'weak' : 'strong';
    const own = mean * Math.exp(sd * random.normal()) * (feed === 'strong' ? ratio : 1);
    return Array.from({ length: 8 }, () => {
      const leaves = poisson(own, random);
      return { tray: `T${tray}`, feed, leaves: random.fraction() < 0.1 ? null : leaves };
    });
  }).flat();
  return {
    columns: {
      tray: cells.map(({ tray }) => tray),
      feed: cells.map(({ feed }) => feed),
      leaves: cells.map(({ leaves }) => leaves),
    },
    rowCount: cells.length,
  };
}

const reading = tableReading({
  response: 'leaves',
  tray: 'tray',
  scale: 'poisson',
  factors: [{ column: 'feed', kind: 'randomised', unit: 'tray' }],
});

/** Share of tables in which a difference is shown. */
function shownIn(sets: number, sd: number, mean: number, ratio: number): number {
  let shown = 0;
  for (let set = 0; set < sets; set++) {
    const outcome = findingsOfTable(made(set, sd, mean, ratio), reading);
    const p = outcome.ok ? termOf(outcome.findings.primary.result, ['feed'])?.p : null;
    if (typeof p === 'number' && p < 0.05) shown++;
  }
  return shown / sets;
}

describe('counts with trays as units', () => {
  // 0.05 ± 2.7 standard errors of 600 sets: 0.0089 each.
  it.each([
    ['no variation among trays', 0, 6],
    ['trays that vary', 0.4, 6],
    ['totals that are zero now and then', 0.4, 0.5],
  ])('show a difference that is none in 5 of 100 trials: %s', (_name, sd, mean) => {
    const rate = shownIn(SETS, sd, mean, 1);
    expect(rate).toBeGreaterThan(0.026);
    expect(rate).toBeLessThan(0.074);
  });

  it('show one that there is', () => {
    expect(shownIn(200, 0.2, 6, 2)).toBeGreaterThan(0.95);
  });
});
