import { positionTakes, type PositionModel } from '../../../shared-types/trial/position';
import {
  fitTests,
  hasCovariance,
  layoutsForRehearsal,
  levelsOf,
  refuseFlatLight,
  refusePlaceOfMeans,
  requestFor,
  runsAllocation,
  siteAllocation,
  type Analysed,
  type Asked,
  type DesignModel,
  type TrialTable,
} from '../../engine/findings';
import { coarseUntreated, type UntreatedBy } from '../../engine/stats/fit';
import type { Allocation } from '../../engine/stats/randomisation';
import type { Departures, Tester } from '../../engine/trial';
import type { Site } from '../../engine/trial/site/site';
import { reasonOf } from '../../words';

/** Where nothing can be tested. */
export const NO_TESTS: Tester = { tests: () => [], finds: () => [] };

/** The tests of one design under one position model, on a table with a harvest in it. */
type TesterOf = (design: DesignModel, data: TrialTable, position: PositionModel) => Tester;

/** Makes testers for one harvest after another; what all of them share is made once. */
export function testerMaker(site: Site, base: TrialTable, options: Asked): TesterOf {
  const { alpha } = site.trial;
  const layouts = { runs: layoutsForRehearsal(alpha), seed: 'rehearsal', kept: true };
  // Layouts by the scheme do not depend on the harvest: they are drawn once for all of them.
  const drawn = base.runs
    ? runsAllocation(
        base.runs.names.map((run) => ({ site, run, seed: `rehearsal, ${run}` })),
        base,
        layouts,
      )
    : siteAllocation(site, base, layouts);
  const drawnIn = (data: TrialTable, position: PositionModel): Allocation | null =>
    drawn && hasCovariance(position) ? { ...drawn, levels: levelsOf(data, drawn.factors) } : null;
  // So are the covariances of places, but for who lives: a coarse choice of them is made once.
  const coarse = new Map<string, UntreatedBy | null>();
  const untreatedIn = (design: DesignModel, position: PositionModel): UntreatedBy | null => {
    if (!hasCovariance(position)) return null;
    const key = JSON.stringify(design.randomUnits);
    const found = coarse.get(key);
    if (found !== undefined) return found;
    const made = coarseUntreated(requestFor(design, position, options), base.table);
    coarse.set(key, made);
    return made;
  };
  return (design, data, position) => {
    if (design.tested.length === 0) return NO_TESTS;
    const asked = { ...options, allocation: drawnIn(data, position) };
    return testsOf(design, position, asked, alpha, data, untreatedIn(design, position));
  };
}

/** The planned model, or without position where that cannot be allowed for; tells how often. */
export class PlannedTesters {
  private fits = 0;
  private fellBack = 0;
  private reason = '';

  constructor(
    private readonly model: PositionModel,
    private readonly testerOf: TesterOf,
  ) {}

  of({ data, design, averaged }: Analysed): Tester {
    const { model, testerOf } = this;
    let own: Tester | null = null;
    const asked = <T>(ask: (tester: Tester) => T): T => {
      this.fits++;
      try {
        if (averaged) refusePlaceOfMeans(model, averaged);
        if (positionTakes[model] === 'light') refuseFlatLight(data);
        own ??= testerOf(design, data, model);
        return ask(own);
      } catch (error) {
        if (model === 'none') throw error;
        this.reason = reasonOf(error);
        this.fellBack++;
        return ask(testerOf(design, data, 'none'));
      }
    };
    return {
      tests: (response) => asked((tester) => tester.tests(response)),
      finds: (response) => asked((tester) => tester.finds(response)),
    };
  }

  placeLeftOut(): Departures['placeLeftOut'] {
    return { times: this.fellBack, of: this.fits, reason: this.reason };
  }
}

/** The tests of factors and interactions, without the means and comparisons. */
function testsOf(
  design: DesignModel,
  position: PositionModel,
  asked: Asked,
  alpha: number,
  data: TrialTable,
  untreatedBy: UntreatedBy | null,
): Tester {
  const idsOf = termIds(design);
  const { rowIndex, tests } = fitTests(data, design, position, asked, untreatedBy);
  const wanted = tests.flatMap((test) => {
    const factorIds = idsOf.get(test.term);
    return factorIds ? [{ factorIds, test }] : [];
  });
  const rowsOf = (response: Float64Array): Float64Array =>
    Float64Array.from(rowIndex, (row) => response[row] ?? NaN);
  return {
    tests(response) {
      const y = rowsOf(response);
      return wanted.map(({ factorIds, test }) => ({ factorIds, p: test.p(y) }));
    },
    finds(response) {
      const y = rowsOf(response);
      return wanted.map(({ factorIds, test }) => ({ factorIds, found: test.finds(y, alpha) }));
    },
  };
}

/** Factor ids of every main effect and interaction by its name in the fit. */
function termIds({ tested }: DesignModel): ReadonlyMap<string, string[]> {
  let sets: { column: string; id: string }[][] = [[]];
  for (const { column, factor } of tested) {
    sets = [...sets, ...sets.map((set) => [...set, { column, id: factor.id }])];
  }
  return new Map(
    sets
      .slice(1)
      .map((set) => [set.map(({ column }) => column).join(' × '), set.map(({ id }) => id)]),
  );
}
