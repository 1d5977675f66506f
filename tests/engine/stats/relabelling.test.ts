import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../shared-types/fit';
import type { DataTable } from '../../../shared-types/fit';
import { fit } from '../../../renderer/engine/stats/fit';
import { stream } from '../../../renderer/engine/trial/stream';

// Levels are ordered by name; what they are called must decide nothing.

/** Nine trays of eight pots: four feeds over trays and pots, three media, a plant in six missing. */
function trial(seed: number, names: readonly string[]): DataTable {
  const random = stream(`relabelling ${seed}`, 'trial');
  const columns: Record<string, (string | number | null)[]> = {};
  for (let i = 0; i < 72; i++) {
    const tray = Math.floor(i / 8);
    const cells = {
      tray: `t${tray}`,
      feed: names[(random.integer(3) + tray) % 4] ?? '',
      medium: names[random.integer(3)] ?? '',
      y: random.fraction() < 0.15 ? null : random.normal() + (tray % 3) + ((i * 7) % 5) / 5,
    };
    for (const [name, cell] of Object.entries(cells)) (columns[name] ??= []).push(cell);
  }
  return { columns, rowCount: 72 };
}

describe('renaming levels so that their order changes', () => {
  it.each(['units', 'kenward-roger', 'containment'] as const)(
    'changes no F, df or p: %s',
    (denominator) => {
      for (let seed = 1; seed <= 3; seed++) {
        const [first, ...others] = ['abcd', 'dcba', 'bdac'].map((names) =>
          fit(
            fitRequestSchema.parse({
              response: 'y',
              treatments: ['feed', 'medium'],
              randomUnits: [['tray']],
              tests: 'marginal',
              denominator,
            }),
            trial(seed, [...names]),
          ),
        );
        for (const other of others) {
          other.terms.forEach((row, i) => {
            const was = first?.terms[i];
            expect(row.df).toBe(was?.df);
            expect(row.dfError).toBeCloseTo(was?.dfError ?? NaN, 3);
            expect(row.statistic).toBeCloseTo(was?.statistic ?? NaN, 5);
            expect(row.p).toBeCloseTo(was?.p ?? NaN, 5);
          });
        }
      }
    },
  );
});
