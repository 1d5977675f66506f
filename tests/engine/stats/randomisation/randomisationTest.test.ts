import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../../../shared-types/fit';
import type { DataTable } from '../../../../shared-types/fit';
import { buildDesign } from '../../../../renderer/engine/stats/design';
import { fit } from '../../../../renderer/engine/stats/fit';
import {
  countArrangements,
  planRandomisation,
  randomisationStatistic,
} from '../../../../renderer/engine/stats/randomisation';

const trays = 8;
const pots = 4;

/** Two blocks of four trays; feed by tray, variety by pot, a start size. */
function trial(noise: readonly number[], feed: readonly string[]): DataTable {
  const rows = Array.from({ length: trays * pots }, (_, i) => ({
    tray: Math.floor(i / pots),
    pot: i % pots,
  }));
  return {
    rowCount: rows.length,
    columns: {
      block: rows.map(({ tray }) => (tray < trays / 2 ? 'b1' : 'b2')),
      tray: rows.map(({ tray }) => `t${tray}`),
      feed: rows.map(({ tray }) => feed[tray] ?? 'lo'),
      variety: rows.map(({ pot }) => ['ash', 'bay', 'fir'][pot % 3] ?? ''),
      start: rows.map((_, i) => ((i * 7) % 11) + (noise[(i * 3) % noise.length] ?? 0)),
      weight: rows.map((_, i) => 10 + (noise[i] ?? 0)),
    },
  };
}

describe('the redrawn F', () => {
  // The definition: the F of the same model fitted to the table with the labels moved.
  it('is the F of the refitted model under any arrangement', () => {
    const noise = fc.array(fc.double({ min: -3, max: 3, noNaN: true }), {
      minLength: trays * pots,
      maxLength: trays * pots,
    });
    const order = fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 });
    fc.assert(
      fc.property(
        noise,
        order,
        order,
        fc.constantFrom('sequential', 'adjusted', 'marginal'),
        fc.constantFrom('feed', 'feed × variety'),
        (values, first, second, tests, term) => {
          const jittered = values.map((value, i) => value + Math.sin(i * 12.9898) * 0.5);
          const drawn = ['hi', 'hi', 'lo', 'lo', 'lo', 'hi', 'lo', 'hi'];
          const moved = [...first, ...second.map((i) => i + 4)].map((i) => drawn[i] ?? 'lo');
          const request = fitRequestSchema.parse({
            response: 'weight',
            treatments: ['feed', 'variety'],
            covariates: ['start'],
            fixedBlocks: ['block'],
            tests,
            redraw: { within: ['block'], unit: ['tray'], runs: 1, term },
          });
          const table = trial(jittered, drawn);
          const design = buildDesign(request, table);
          if (!request.redraw) throw new Error('no redraw');
          const plan = planRandomisation(request, request.redraw, table, design);
          const statistic = randomisationStatistic(design, plan, request.tests);
          const sums = new Float64Array(statistic.size);
          const label = new Map(drawn.map((name, tray) => [name, plan.observed[tray] ?? 0]));
          moved.forEach((name, tray) => statistic.addUnit(sums, tray, label.get(name) ?? 0));
          const refit = fit({ ...request, redraw: null }, trial(jittered, moved));
          const want = refit.terms.find((row) => row.term === term)?.statistic ?? NaN;
          expect(Math.abs(statistic.f(sums) - want)).toBeLessThan(1e-7 * (1 + Math.abs(want)));
          // (4 choose 2) ways in each of two blocks.
          expect(countArrangements(plan)).toBe(36);
        },
      ),
      { numRuns: 60, seed: 11 },
    );
  });
});

describe('a randomisation test of rows that differ in several treatments', () => {
  const drawn = ['hi', 'hi', 'lo', 'lo', 'lo', 'hi', 'lo', 'hi'];
  const noise = Array.from({ length: trays * pots }, (_, i) => Math.sin(i * 12.9898));
  const warned = (redraw: object) =>
    fit(
      fitRequestSchema.parse({
        response: 'weight',
        treatments: ['feed', 'variety'],
        tests: 'marginal',
        redraw: { runs: 19, seed: 'a', ...redraw },
      }),
      trial(noise, drawn),
    ).warnings.filter((text) => text.startsWith('redraw'));

  it('says that the test of the first is approximate where all of them move', () => {
    expect(warned({ within: [], unit: [] })).toEqual([
      'redraw: the test of feed is approximate. The labels of feed and variety moved together, so it ' +
        'is exact only where variety changes nothing.',
    ]);
    expect(warned({ within: ['tray'], unit: [], term: 'feed × variety' })).toEqual([
      'redraw: the test of feed × variety is approximate. Its layouts change the main effect of ' +
        'variety, too.',
    ]);
  });

  it('does not where the others vary within the units, or not within the groups', () => {
    expect(warned({ within: ['block'], unit: ['tray'] })).toEqual([]);
    expect(warned({ within: ['tray'], unit: [], term: 'variety' })).toEqual([]);
  });
});
