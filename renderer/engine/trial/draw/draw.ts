import type { Assignment, Layout } from '../../../../shared-types/layout';
import { blockNames } from '../blocks/blocks';
import type { TrialInput } from '../input';
import { drawPrepared, prepareTier } from '../constraint/prepared';
import type { StageReport } from '../constraint/prepared';
import { withWhatWasRead } from './atDraw';
import { balanceLimits } from '../figures/balanceLimits';
import { drawnFromOf, drawReadsStart } from './drawnFrom';
import { misfitsOf } from '../fit/fit';
import { dealPlants } from '../plants/plants';
import type { Plant } from '../plants/plants';
import type { Drawn, PreparedDraw } from './preparedDraw';
import { givenLevels } from '../site/site';
import { siteOf } from '../site/siteOf';
import type { Site } from '../site/site';
import { Refusal } from '../../../words';
import { whole } from '../../entry';

export interface DrawRequest extends TrialInput {
  seed: string;
  /** ISO 8601 with offset; the engine has no clock. */
  drawnAt: string;
  engineVersion: string;
  /** Plants weighed beforehand, to be given to the pots by size class. */
  plants?: readonly Plant[] | undefined;
}

export interface DrawReport {
  /** Candidate layouts drawn until every stage of the draw had an acceptable one. */
  candidates: number;
  stages: StageReport[];
  /** Codes of plants that no pot was left for. */
  spares: string[];
}

// As long as a plan file keeps.
const LONGEST_SEED = 200;

/**
 * Draws the trial's layout: uniform over the layouts that scheme and constraint allow. Throws,
 * naming the reason, where the scheme does not fit the rack (see `misfitsOf`), the trial has no
 * factors, or there are too few plants.
 */
export function drawLayout(request: DrawRequest): { layout: Layout; report: DrawReport } {
  return drawnBy(prepareDraw(request), request);
}

/** The same, with the redraws that tell how uneven a draw of this design may be. */
export function drawLayoutToKeep(request: DrawRequest): Layout {
  const prepared = prepareDraw(request);
  const { layout } = drawnBy(prepared, request);
  return { ...layout, balanceLimits: balanceLimits(prepared) };
}

function drawnBy(
  prepared: PreparedDraw,
  request: DrawRequest,
): { layout: Layout; report: DrawReport } {
  const { trial, seed, drawnAt, engineVersion, plants } = request;
  if (seed.length > LONGEST_SEED) {
    throw new Refusal(
      `seed: a text of ${seed.length} signs was found; 1 to ${LONGEST_SEED} signs are expected`,
    );
  }
  const { site } = prepared;
  const drawn = prepared.draw(seed);
  const bare = assignmentsOf(site, drawn);
  const { assignments, spares } = plants
    ? dealPlants(trial, bare, plants, seed)
    : { assignments: bare, spares: [] };
  const layout: Layout = {
    scheme: trial.scheme,
    seed,
    drawnAt,
    engineVersion,
    drawnFrom: drawnFromOf(site),
    candidates: drawn.candidates,
    assignments: withWhatWasRead(site, assignments, drawReadsStart(site)),
    swaps: [],
    plantedAt: null,
  };
  return { layout, report: { candidates: drawn.candidates, stages: drawn.stages, spares } };
}

/** Resolves the trial once for many draws. Throws as `drawLayout` does. */
export function prepareDraw(input: TrialInput): PreparedDraw {
  return prepareSite(siteOf(input));
}

export function prepareSite(site: Site): PreparedDraw {
  if (site.trial.factors.length === 0) {
    throw new Refusal(
      'trial: it has no factors; at least one is expected before a layout is drawn',
    );
  }
  const misfit = misfitsOf(site)[0];
  if (misfit) throw new Refusal(`layout: ${misfit.text} ${misfit.remedy}`);
  const tiers = site.tiers.map((tier) => prepareTier(site, tier));
  return {
    site,
    draw(seed) {
      const drawn = tiers.map((tier) => drawPrepared(site, tier, seed));
      const stages = drawn.flatMap((tier) => tier.stages);
      // One candidate a stage is the least; what comes on top was drawn again.
      const again = stages.reduce((sum, stage) => sum + stage.candidates - 1, 0);
      return { treatmentOf: drawn.map((tier) => tier.treatmentOf), candidates: 1 + again, stages };
    },
  };
}

/** Levels of all factors, drawn and given, for every measured pot. */
export function assignmentsOf(site: Site, drawn: Pick<Drawn, 'treatmentOf'>): Assignment[] {
  const names = blockNames(site.blocks);
  const given = site.trial.factors
    .filter((factor) => factor.kind === 'fixed')
    .map((factor) => ({ id: factor.id, levels: givenLevels(site, factor) }));
  return site.pots.map((pot, i) => {
    const levels: Record<string, string> = {};
    for (const factor of given) {
      const level = factor.levels[i];
      if (level) levels[factor.id] = level;
    }
    site.tiers.forEach((tier, k) => {
      const treatment = drawn.treatmentOf[k]?.[whole(tier.units.classOf, i)] ?? -1;
      Object.assign(levels, tier.combinations[treatment]?.levels);
    });
    return { potId: pot.id, block: names.get(pot.id) ?? '', levels, plant: null };
  });
}
