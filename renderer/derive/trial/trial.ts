import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import type { Trial } from '../../../shared-types/trial/trial';
import { potsOfRack, type Pot } from '../../engine/geometry';
import { startBefore } from '../../engine/findings';
import { asApplied, trialPotsOf } from '../../engine/trial';
import { balanceOf, type BalanceTable } from '../../engine/trial/figures/balance';
import { blockNames, blocksOf } from '../../engine/trial/blocks/blocks';
import { type Block, type PpfdByPot, type TrialInput } from '../../engine/trial/input';
import { treatmentKey, treatmentsOf, type Treatment } from '../../engine/trial/treatments';
import { unitsOf } from '../../engine/trial/units';
import type { UnitsReport } from '../../engine/trial/strata/skeleton';
import type { Records } from '../../../shared-types/records';
import type { BoundBy } from '../../engine/trial/bound';
import type { Runs } from '../../engine/trial/input';
import { ppfdByPotOf } from '../light/potLight';
import { boundOf, grownOf } from './runs';
import { bareOf } from '../treated';
import { memo } from '../memo';
import { reasonOf } from '../../words';

const potsMemo = memo((rack: Rack): Pot[] => potsOfRack(rack));

/** All pots of the rack, guard pots too. */
export function potsOf(plan: Plan): Pot[] {
  return potsMemo(plan.rack);
}

const potIndexMemo = memo((rack: Rack) => new Map(potsMemo(rack).map((pot) => [pot.id, pot])));

export function potByIdOf(plan: Plan): ReadonlyMap<string, Pot> {
  return potIndexMemo(plan.rack);
}

/** A computed thing, or the sentence that says why it cannot be computed. */
export type Attempt<T> = { ok: true; value: T } | { ok: false; reason: string };

export function attempt<T>(compute: () => T): Attempt<T> {
  try {
    return { ok: true, value: compute() };
  } catch (error) {
    return { ok: false, reason: reasonOf(error) };
  }
}

type Zones = TrialInput['zones'];
const NO_ZONES: Zones = [];
/** What each reservoir floods; none before the flooding is planned. */
export const zonesOf = (plan: Plan): Zones => plan.flood?.zones ?? NO_ZONES;

const appliedMemo = memo((rack: Rack, trial: Trial, zones: Zones, layout: Plan['layout']) =>
  asApplied(trial, trialPotsOf(rack, zones), layout),
);

/** The trial with each factor on the unit that can in truth differ; null without a trial. */
export function appliedTrialOf(plan: Plan): Trial | null {
  if (!plan.trial) return null;
  return appliedMemo(plan.rack, plan.trial, zonesOf(plan), plan.layout).trial;
}

const blocksMemo = memo((rack: Rack, trial: Trial, ppfdByPot: PpfdByPot, zones: Zones) =>
  attempt(() => blocksOf({ rack, trial, ppfdByPot, zones })),
);

/** The trial's blocks; [] without a trial. */
export function blocksOfPlan(shown: Plan): Attempt<Block[]> {
  const plan = bareOf(shown);
  if (!plan.trial) return { ok: true, value: [] };
  return blocksMemo(plan.rack, plan.trial, ppfdByPotOf(plan), zonesOf(plan));
}

const namesMemo = memo((blocks: Block[]) => blockNames(blocks));

export function blockByPotOf(plan: Plan): ReadonlyMap<string, string> {
  const blocks = blocksOfPlan(plan);
  return blocks.ok ? namesMemo(blocks.value) : new Map();
}

const unitsMemo = memo(
  (rack: Rack, trial: Trial, ppfdByPot: PpfdByPot, zones: Zones, grown: Runs) =>
    attempt(() => unitsOf({ rack, trial, ppfdByPot, zones, grown })),
);

/** Units and error terms of all runs of the trial together, or of as many as are named. */
export function unitsOfPlan(
  shown: Plan,
  grown: Runs = grownOf(bareOf(shown)),
): Attempt<UnitsReport> {
  const plan = bareOf(shown);
  if (!plan.trial) return { ok: true, value: { factors: [], skeleton: [] } };
  return unitsMemo(plan.rack, plan.trial, ppfdByPotOf(plan), zonesOf(plan), grown);
}

const startValuesMemo = memo(
  (values: Records['values'][string] | undefined): ReadonlyMap<string, number> =>
    new Map(Object.entries(values ?? {})),
);

/** Starting value of the primary measurement by pot id; empty where there is none. */
export function startByPotOf(plan: Plan): ReadonlyMap<string, number> {
  const { trial, records } = plan;
  const primary = trial?.measurements.find((m) => m.id === trial.primaryOutcomeId);
  const start = trial && primary ? startBefore(trial, primary) : null;
  return startValuesMemo(start ? records.values[start.id] : undefined);
}

const balanceMemo = memo(
  (
    rack: Rack,
    trial: Trial,
    layout: Layout,
    ppfdByPot: PpfdByPot,
    startByPot: ReadonlyMap<string, number>,
    zones: Zones,
    bound: BoundBy | undefined,
  ) => attempt(() => balanceOf({ rack, trial, ppfdByPot, startByPot, zones, bound }, layout)),
);

const inputMemo = memo(
  (
    rack: Rack,
    trial: Trial,
    ppfdByPot: PpfdByPot,
    startByPot: ReadonlyMap<string, number> | undefined,
    listedPlants: Plan['plants'],
    zones: Zones,
    bound: BoundBy | undefined,
    grown: Runs,
  ): TrialInput => ({
    rack,
    trial,
    ppfdByPot,
    startByPot,
    listedPlants,
    zones,
    grown,
    ...(bound ? { bound } : {}),
  }),
);

/** The same without the starting values, which nothing but a draw by size rests on. */
export function designInputOf(shown: Plan): TrialInput | null {
  const plan = bareOf(shown);
  if (!plan.trial) return null;
  return inputMemo(
    ...([plan.rack, plan.trial, ppfdByPotOf(plan), undefined, plan.plants, zonesOf(plan)] as const),
    ...([boundOf(plan), grownOf(plan)] as const),
  );
}

/** What draws, blocks and their checks start from; null without a trial. */
export function trialInputOf(shown: Plan): TrialInput | null {
  const plan = bareOf(shown);
  if (!plan.trial) return null;
  return inputMemo(
    plan.rack,
    plan.trial,
    ppfdByPotOf(plan),
    startByPotOf(plan),
    plan.plants,
    zonesOf(plan),
    boundOf(plan),
    grownOf(plan),
  );
}

export function balanceOfPlan(shown: Plan): Attempt<BalanceTable> | null {
  const plan = bareOf(shown);
  if (!plan.trial || !plan.layout) return null;
  return balanceMemo(
    plan.rack,
    plan.trial,
    plan.layout,
    ppfdByPotOf(plan),
    startByPotOf(plan),
    zonesOf(plan),
    boundOf(plan),
  );
}

const treatmentsMemo = memo((trial: Trial): Treatment[] => treatmentsOf(trial));

export function treatmentsOfPlan(plan: Plan): Treatment[] {
  return plan.trial ? treatmentsMemo(plan.trial) : [];
}

export interface PotInTrial {
  pot: Pot;
  block: string;
  treatment: Treatment | null;
  /** Its place in the list of treatments, which decides its look; −1 without one. */
  index: number;
  plant: string | null;
}

const placedMemo = memo((rack: Rack, trial: Trial, layout: Layout) => {
  const pots = potIndexMemo(rack);
  const treatments = treatmentsMemo(trial);
  const indexOf = new Map(treatments.map((treatment, i) => [treatment.key, i]));
  const placed = new Map<string, PotInTrial>();
  for (const assignment of layout.assignments) {
    const pot = pots.get(assignment.potId);
    if (!pot) continue;
    const index = indexOf.get(treatmentKey(trial, assignment.levels)) ?? -1;
    const { block, plant } = assignment;
    placed.set(pot.id, { pot, block, plant, index, treatment: treatments[index] ?? null });
  }
  return placed;
});

/** The layout as it stands: treatment, block and plant of each drawn pot, by pot id. */
export function placedPotsOf(plan: Plan): ReadonlyMap<string, PotInTrial> {
  if (!plan.trial || !plan.layout) return new Map();
  return placedMemo(plan.rack, plan.trial, plan.layout);
}
