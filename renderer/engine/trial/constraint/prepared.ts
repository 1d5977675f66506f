import { tierDrawer } from '../schemes';
import type { TierDrawer } from '../schemes';
import type { Site, Tier } from '../site/site';
import { stream } from '../stream';
import type { Stream } from '../stream';
import { covariatesOf, distanceOver, imbalance, TreatmentSums } from './distance';
import type { Covariates, Distance } from './distance';
import { excessAt, neighboursOf, separateLikes } from './neighbours';
import type { Neighbours } from './neighbours';
import { logLayouts, stagesOf } from './stages';
import type { DrawStage } from './stages';
import { Refusal } from '../../../words';
import { real } from '../../entry';

/** How one stage of the draw came out. */
export interface StageReport {
  /** `rack`, or the id of a shelf. */
  name: string;
  unit: Tier['unit'];
  candidates: number;
  /** Share of free draws that would be accepted: the plan's, or more where layouts are few. */
  acceptanceShare: number;
  /** Empirical quantile of the imbalance at that share; null where nothing is balanced. */
  threshold: number | null;
  /** Imbalance of the accepted draw (see `Distance`). */
  distance: number | null;
}

interface PreparedStage extends DrawStage {
  acceptanceShare: number;
  threshold: number | null;
  distance: Distance | null;
  /** Units drawn in this stage. */
  units: number[];
}

/** Everything about a tier's draw that does not depend on the seed. */
export interface PreparedTier {
  tier: Tier;
  covariates: Covariates;
  stages: PreparedStage[];
  neighbours: Neighbours | null;
}

// Fewer acceptable layouts than this would leave a randomisation test no small p.
const FEWEST_LAYOUTS = 1000;
const PILOT_DRAWS = { least: 1000, most: 20_000, perAccepted: 20 };
// A seed of its own: the threshold belongs to the design, not to one draw.
const PILOT_SEED = 'acceptance threshold';
// A stage is given up after so many times the expected number of candidates.
const PATIENCE = 50;
const GRID_ATTEMPTS = 2000;
// Searches for an arrangement under the cap on like neighbours, each from a draw of its own.
const CAP_ATTEMPTS = 10;

export function prepareTier(site: Site, tier: Tier): PreparedTier {
  const { constraint, scheme } = site.trial;
  const capped = constraint.likeNeighbours !== null && tier.unit === 'pot';
  const neighbours = capped ? neighboursOf(site, tier) : null;
  const covariates = covariatesOf(site, tier);
  const balances = constraint.acceptanceShare < 1 && covariates.values.length > 0;
  const stages = stagesOf(site, tier).map((stage): PreparedStage => {
    const groups = stage.upTo.flatMap((g) => tier.groups[g] ?? []);
    const units = stage.groups.flatMap((g) => tier.groups[g]?.units ?? []);
    if (!balances) {
      return { ...stage, acceptanceShare: 1, threshold: null, distance: null, units };
    }
    const enough = Math.exp(Math.log(FEWEST_LAYOUTS) - logLayouts(site, tier, groups));
    return {
      ...stage,
      acceptanceShare: Math.min(1, Math.max(constraint.acceptanceShare, enough)),
      threshold: null,
      distance: distanceOver(covariates, groups, tier.combinations.length),
      units,
    };
  });
  const prepared = { tier, covariates, stages, neighbours };
  if (balances) setThresholds(prepared, scheme, constraint.likeNeighbours);
  return prepared;
}

/**
 * Thresholds as empirical quantiles over free draws. The χ² quantile is only their limit for many
 * units; the empirical one holds for any number.
 */
function setThresholds(
  prepared: PreparedTier,
  scheme: Site['trial']['scheme'],
  cap: number | null,
): void {
  const { tier, stages } = prepared;
  const runsOf = ({ acceptanceShare }: PreparedStage): number =>
    Math.min(
      PILOT_DRAWS.most,
      Math.max(PILOT_DRAWS.least, Math.ceil(PILOT_DRAWS.perAccepted / acceptanceShare)),
    );
  // A stage's own number of runs: what shelves come after it must not move its threshold.
  const found = stages.map((stage) => new Float64Array(runsOf(stage)));
  const runs = Math.max(...found.map((list) => list.length));
  const drawer = tierDrawer(scheme, tier, PILOT_SEED);
  const mixer = stages.map((stage) => stream(PILOT_SEED, `neighbours|${stage.name}`));
  const treatmentOf = new Int32Array(tier.units.count);
  for (let run = 0; run < runs; run++) {
    const sums = sumsOf(prepared);
    stages.forEach((stage, s) => {
      draw(prepared, stage, drawer, treatmentOf, cap, mixer[s]);
      sums.add(stage.units, treatmentOf);
      const list = found[s];
      if (list && run < list.length && stage.distance) list[run] = imbalance(stage.distance, sums);
    });
  }
  stages.forEach((stage, s) => {
    const sorted = found[s]?.sort();
    if (!sorted || stage.acceptanceShare >= 1) return;
    const rank = Math.max(1, Math.ceil(stage.acceptanceShare * sorted.length));
    // A hair above, so that equal layouts computed in another order count as equal.
    stage.threshold = real(sorted, rank - 1) * (1 + 1e-9) + 1e-12;
  });
}

const sumsOf = ({ tier, covariates }: PreparedTier): TreatmentSums =>
  new TreatmentSums(covariates, tier.combinations.length);

/** One candidate, or an error where the cap on like neighbours is out of reach after all. */
function draw(...[prepared, stage, drawer, treatmentOf, cap, mixer]: Parameters<typeof candidate>) {
  for (let attempt = 0; attempt < CAP_ATTEMPTS; attempt++) {
    if (candidate(prepared, stage, drawer, treatmentOf, cap, mixer)) return;
  }
  throw new Refusal(
    `layout: no arrangement with at most ${cap ?? 0} like neighbours in a line was found in ${CAP_ATTEMPTS} searches; allow more, or try another seed`,
  );
}

/** Draws a stage's groups anew; false where the cap on like neighbours was not reached. */
function candidate(
  prepared: Pick<PreparedTier, 'tier' | 'neighbours'>,
  stage: DrawStage,
  drawer: TierDrawer,
  treatmentOf: Int32Array,
  cap: number | null,
  mixer: Stream | undefined,
): boolean {
  const { tier, neighbours } = prepared;
  if (neighbours && cap !== null && drawer.onGrid) {
    // What an earlier candidate left in groups yet to be drawn is nobody's neighbour.
    for (const g of stage.groups) for (const u of tier.groups[g]?.units ?? []) treatmentOf[u] = -1;
    return stage.groups.every((g) => drawApart(tier, g, drawer, treatmentOf, neighbours, cap));
  }
  for (const g of stage.groups) drawer.drawGroup(g, treatmentOf);
  if (!neighbours || cap === null || !mixer) return true;
  const groups = stage.groups.flatMap((g) => tier.groups[g] ?? []);
  return separateLikes(groups, treatmentOf, neighbours, cap, mixer);
}

/**
 * A square can't be rearranged pot by pot: it is drawn until no line is too long. A rectangle walks
 * to one within its class.
 */
function drawApart(
  tier: Tier,
  g: number,
  drawer: TierDrawer,
  treatmentOf: Int32Array,
  neighbours: Neighbours,
  cap: number,
): boolean {
  const units = tier.groups[g]?.units ?? [];
  const excess = (): number =>
    units.reduce((sum, unit) => sum + excessAt(unit, treatmentOf, neighbours, cap), 0);
  drawer.drawGroup(g, treatmentOf);
  if (drawer.separate) return drawer.separate(g, treatmentOf, excess);
  for (let attempt = 1; excess() > 0; attempt++) {
    if (attempt === GRID_ATTEMPTS) return false;
    drawer.drawGroup(g, treatmentOf);
  }
  return true;
}

/**
 * The least cap on like neighbours, from the wanted one up, that a search reaches; the wanted one
 * where it is within reach. Always the same for the same trial.
 */
export function reachableCap(site: Site, tier: Tier, wanted: number): number {
  const neighbours = neighboursOf(site, tier);
  const stages = stagesOf(site, tier);
  for (let cap = wanted; ; cap++) {
    const drawer = tierDrawer(site.trial.scheme, tier, PILOT_SEED);
    const mixer = stream(PILOT_SEED, `cap ${cap}`);
    const treatmentOf = new Int32Array(tier.units.count);
    const reached = stages.every((stage) =>
      candidate({ tier, neighbours }, stage, drawer, treatmentOf, cap, mixer),
    );
    if (reached) return cap;
  }
}

/** Draws one tier: every stage anew until its imbalance is acceptable. */
export function drawPrepared(
  site: Site,
  prepared: PreparedTier,
  seed: string,
): { treatmentOf: Int32Array; stages: StageReport[] } {
  const { tier, stages } = prepared;
  const { scheme, constraint } = site.trial;
  const cap = constraint.likeNeighbours;
  const drawer = tierDrawer(scheme, tier, seed);
  const treatmentOf = new Int32Array(tier.units.count);
  const before = sumsOf(prepared);
  const sums = sumsOf(prepared);
  const reports = stages.map((stage): StageReport => {
    const mixer = stream(seed, `neighbours|${tier.unit}|${stage.name}`);
    const { distance, threshold } = stage;
    const most = Math.ceil(PATIENCE / stage.acceptanceShare);
    let best: Int32Array | null = null;
    let bestDistance = Infinity;
    let candidates = 0;
    while (candidates < most) {
      draw(prepared, stage, drawer, treatmentOf, cap, mixer);
      candidates++;
      if (!distance || threshold === null) break;
      sums.setTo(before);
      sums.add(stage.units, treatmentOf);
      const found = imbalance(distance, sums);
      if (found < bestDistance) {
        bestDistance = found;
        best = Int32Array.from(treatmentOf);
      }
      if (found <= threshold) break;
    }
    if (best && threshold !== null && bestDistance > threshold) treatmentOf.set(best);
    before.add(stage.units, treatmentOf);
    return {
      name: stage.name,
      unit: tier.unit,
      candidates,
      acceptanceShare: stage.acceptanceShare,
      threshold,
      distance: distance && threshold !== null ? bestDistance : null,
    };
  });
  return { treatmentOf, stages: reports };
}

/** Longest line of like neighbours on the rack. */
export function longestLikeLine(site: Site, tier: Tier, treatmentOf: Int32Array): number {
  const neighbours = neighboursOf(site, tier);
  let longest = 1;
  for (let unit = 0; unit < tier.units.count; unit++) {
    while (excessAt(unit, treatmentOf, neighbours, longest) > 0) longest++;
  }
  return longest;
}
