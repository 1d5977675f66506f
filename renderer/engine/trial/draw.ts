import type { Assignment, Layout } from '../../../shared-types/layout';
import { blockNames } from './blocks';
import type { TrialInput } from './blocks';
import { drawnFromOf } from './drawn-from';
import { misfitsOf } from './fit';
import { givenLevels, siteOf } from './site';
import type { Site } from './site';
import { drawTreatments } from './schemes';
import type { Drawn } from './schemes';

export interface DrawRequest extends TrialInput {
  seed: string;
  /** ISO 8601 with offset; the engine has no clock. */
  drawnAt: string;
  engineVersion: string;
  /** Starting values of plants already standing in the pots, by pot id; for balance on start. */
  startByPot?: ReadonlyMap<string, number>;
}

export interface DrawReport {
  /** Candidate layouts drawn until every stage of the draw had an acceptable one. */
  candidates: number;
}

/**
 * Draws the trial's layout: uniform over the layouts that the scheme allows. Throws, naming the
 * reason, where the scheme does not fit the rack (see `misfitsOf`) or the trial has no factors.
 */
export function drawLayout(request: DrawRequest): { layout: Layout; report: DrawReport } {
  const { trial, seed, drawnAt, engineVersion } = request;
  const site = siteOf(request);
  const drawn = drawSite(site, seed, request.startByPot);
  const layout: Layout = {
    scheme: trial.scheme,
    seed,
    drawnAt,
    engineVersion,
    drawnFrom: drawnFromOf(site, request.startByPot),
    candidates: drawn.candidates,
    assignments: assignmentsOf(site, drawn),
    swaps: [],
    plantedAt: null,
  };
  return { layout, report: { candidates: drawn.candidates } };
}

/** The draw itself: the treatment of every unit of every tier. */
export function drawSite(
  site: Site,
  seed: string,
  startByPot?: ReadonlyMap<string, number>,
): Drawn {
  if (site.trial.factors.length === 0) {
    throw new Error('trial: it has no factors; at least one is expected before a layout is drawn');
  }
  const misfit = misfitsOf(site)[0];
  if (misfit) throw new Error(`layout: ${misfit.text} ${misfit.remedy}`);
  return drawTreatments(site, seed, startByPot);
}

/** Levels of all factors, drawn and given, for every measured pot. */
export function assignmentsOf(site: Site, drawn: Drawn): Assignment[] {
  const names = blockNames(site.blocks);
  const given = site.trial.factors
    .filter((factor) => factor.kind === 'given')
    .map((factor) => ({ id: factor.id, levels: givenLevels(site, factor) }));
  return site.pots.map((pot, i) => {
    const levels: Record<string, string> = {};
    for (const factor of given) {
      const level = factor.levels[i];
      if (level) levels[factor.id] = level;
    }
    site.tiers.forEach((tier, k) => {
      const treatment = drawn.treatmentOf[k]?.[tier.units.classOf[i] ?? 0] ?? -1;
      Object.assign(levels, tier.combinations[treatment]?.levels);
    });
    return { potId: pot.id, block: names.get(pot.id) ?? '', levels, plant: null };
  });
}
