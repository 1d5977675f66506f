import {
  placeTraits,
  type DataTable,
  type FitRequest,
  type FitResult,
} from '../../../../shared-types/fit';
import type { Design } from '../design';
import type { RandomisationPlan } from '../randomisation';
import {
  countArrangements,
  drawAll,
  drawRandom,
  glsStatistic,
  MOST_ARRANGEMENTS,
  planRandomisation,
  randomisationStatistic,
} from '../randomisation';
import { nullCovariance } from './covariance/nullCovariance';
import { figures, list, Refusal } from '../../../words';
import { whole } from '../../entry';

/**
 * Randomisation test: the F of a term under shuffled labels; by least squares on the fixed part of
 * the model, or, with a smooth surface or likeness of neighbours, by generalised least squares with
 * the variance parameters estimated once without the treatments. Throws where `all` asks for more arrangements than can be listed.
 */
export function runRandomisationTest(
  request: FitRequest,
  asked: NonNullable<FitRequest['redraw']>,
  table: DataTable,
  design: Design,
): { result: NonNullable<FitResult['redraw']>; method: string[]; warnings: string[] } {
  const plan = planRandomisation(request, asked, table, design);
  const term = design.terms[plan.term]?.name ?? '';
  const { position } = request;
  const placed = position !== null && placeTraits[position.model].covarianceOf !== null;
  const statistic = placed
    ? glsStatistic(design, plan, request.tests, nullCovariance(request, table, design.y))
    : randomisationStatistic(design, plan, request.tests);
  const exact = asked.runs === 'all';
  if (exact) {
    const arrangements = countArrangements(plan);
    if (arrangements > MOST_ARRANGEMENTS) {
      throw new Refusal(
        `redraw: there are ${figures(arrangements, 6)} arrangements; at most ` +
          `${MOST_ARRANGEMENTS} are listed one by one, expected a number of runs instead of all`,
      );
    }
  }
  const count =
    asked.runs === 'all'
      ? drawAll(plan, statistic)
      : drawRandom(plan, statistic, asked.runs, asked.seed);
  const { runs, asExtreme } = count;
  const unit = asked.unit.length > 0 ? asked.unit.join(' × ') : 'single rows';
  const within = asked.within.length > 0 ? ` within ${asked.within.join(' × ')}` : '';
  return {
    result: {
      runs,
      asExtreme,
      p: exact ? asExtreme / runs : (1 + asExtreme) / (1 + runs),
      exact,
      term,
    },
    method: [
      `Randomisation test of ${term} by its F (${
        placed
          ? 'generalised least squares, variance parameters estimated once without the treatments'
          : 'least squares, fixed part of the model'
      }): the ` +
        `labels of ${list(plan.moved)} moved between ${unit}${within}, ` +
        (exact ? `all ${runs} arrangements.` : `${runs} random arrangements.`),
    ],
    warnings: approximateWords(term, design.terms[plan.term]?.factors ?? [], varying(plan)),
  };
}

/** The moved factors with more than one level in some group: the others stay, whatever is drawn. */
function varying({ moved, labels, groups, observed }: RandomisationPlan): string[] {
  return moved.filter((_, m) => {
    const level = (unit: number): number => labels[whole(observed, unit)]?.[m] ?? 0;
    return groups.some((units) => units.some((unit) => level(unit) !== level(whole(units, 0))));
  });
}

function approximateWords(
  term: string,
  factors: readonly string[],
  moving: readonly string[],
): string[] {
  const others = moving.filter((name) => !factors.includes(name));
  if (others.length > 0) {
    return [
      `redraw: the test of ${term} is approximate. The labels of ${list(moving)} moved together, ` +
        `so it is exact only where ${list(others)} changes nothing.`,
    ];
  }
  if (factors.length < 2) return [];
  return [
    `redraw: the test of ${term} is approximate. Its layouts change the main effect of ` +
      `${list(moving)}, too.`,
  ];
}
