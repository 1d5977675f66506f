import { describe, expect, it } from 'vitest';
import { fit } from '../../../../renderer/engine/stats/fit';
import { stream } from '../../../../renderer/engine/trial/stream';
import { fitRequestSchema } from '../../../../shared-types/fit';

/** Eight trays of the given sizes in turn, two feeds, trays that differ by themselves or not. */
function warningsOf(sizes: readonly number[], trays: number): string {
  const random = stream('uneven', `${sizes.join()} ${trays}`);
  const rows = Array.from({ length: 8 }, (_, tray) => {
    const own = trays * random.normal();
    return Array.from({ length: sizes[tray % sizes.length] ?? 1 }, (_, pot) => ({
      tray: `t${tray}`,
      feed: tray % 4 < 2 ? 'weak' : 'strong',
      // Without spread among trays: means that differ less than chance alone would make them.
      y: trays === 0 ? pot % 2 : own + random.normal(),
    }));
  }).flat();
  const table = {
    columns: {
      tray: rows.map(({ tray }) => tray),
      feed: rows.map(({ feed }) => feed),
      y: rows.map(({ y }) => y),
    },
    rowCount: rows.length,
  };
  const request = fitRequestSchema.parse({
    response: 'y',
    treatments: ['feed'],
    randomUnits: [['tray']],
    tests: 'marginal',
    denominator: 'units',
  });
  return fit(request, table).warnings.join(' ');
}

describe('units of different size', () => {
  it('are warned of from three times as many rows on, where they differ by themselves', () => {
    expect(warningsOf([4, 12], 3)).toContain(
      'tray: its units hold from 4 to 12 rows, and count by their rows in the test of feed.',
    );
  });

  it('are not where sizes are closer, or trays differ no more than their rows', () => {
    expect(warningsOf([5, 12], 3)).not.toContain('its units hold');
    expect(warningsOf([12, 4], 0)).not.toContain('its units hold');
  });
});
