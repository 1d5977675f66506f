import type { Plan } from '../../../shared-types/plan';
import type { PlanPlant } from '../../../shared-types/plant';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';
import { startBefore } from '../../engine/findings';
import { dealPlants, substitutesFor, type Plant } from '../../engine/trial/plants/plants';
import { treatmentKey } from '../../engine/trial/treatments';
import { memo } from '../memo';
import { guessDecimal, isBlank, parseList, readNumber } from '../../tables';
import { attempt, treatmentsOfPlan, type Attempt } from '../trial/trial';

/** The measurement at the start that the plants were weighed (or counted) for; null without one. */
export function startMeasurementOf(plan: Plan): Measurement | null {
  const { trial } = plan;
  if (!trial) return null;
  const primary = trial.measurements.find((m) => m.id === trial.primaryOutcomeId);
  const own = primary ? startBefore(trial, primary) : null;
  return own ?? trial.measurements.find((m) => m.timepoint === 'start') ?? null;
}

/** Factors whose level a plant brings with it. */
export function broughtFactors(trial: Trial | null): Factor[] {
  return (trial?.factors ?? []).filter((f) => f.kind === 'fixed' && f.unit === 'pot');
}

export interface ReadPlants {
  plants: PlanPlant[];
  /** Lines that were not taken, each as a sentence. */
  problems: string[];
}

/**
 * Reads a typed or pasted list, one plant a line: its code, what it weighed, and the names of
 * levels it brings (its cultivar), separated by tab, semicolon, comma or space. A line with a number
 * alone gets the next free code `P1`, `P2`…; a head line without any number is passed over.
 */
export function readPlantList(
  text: string,
  known: readonly PlanPlant[],
  trial: Trial | null,
): ReadPlants {
  const parsed = parseList(text);
  if (!parsed.ok) {
    const { line, problem } = parsed;
    return { plants: [], problems: [line === null ? problem : `Line ${line}: ${problem}.`] };
  }
  const decimal = guessDecimal(parsed.lines.flatMap(({ cells }) => cells));
  const factors = broughtFactors(trial);
  const taken = new Set(known.map((plant) => plant.code.toLowerCase()));
  const plants: PlanPlant[] = [];
  const problems: string[] = [];
  let number = 0;
  const nextCode = (): string => {
    do number++;
    while (taken.has(`p${number}`));
    return `P${number}`;
  };
  parsed.lines.forEach(({ line, cells }) => {
    const [first = '', second] = cells;
    const alone = cells.length === 1;
    const written = alone ? first : (second ?? '');
    const startValue = isBlank(written) ? null : readNumber(written, decimal);
    const where = `Line ${line}`;
    if (startValue === null) {
      const head = plants.length === 0 && problems.length === 0 && !/[0-9]/.test(written);
      if (!head || line > 1) problems.push(`${where}: “${written}” is no number.`);
      return;
    }
    const code = alone ? nextCode() : first;
    if (code === '' || code.length > 40) {
      problems.push(`${where}: a code of 1 to 40 letters is expected.`);
      return;
    }
    if (taken.has(code.toLowerCase())) {
      problems.push(`${where}: plant ${code} is listed already.`);
      return;
    }
    const levels: Record<string, string> = {};
    for (const name of cells.slice(2)) {
      if (name === '') continue;
      const found = levelNamed(factors, name);
      if (found) levels[found.factorId] = found.levelId;
      else problems.push(`${where}: “${name}” is no level of a factor that plants bring.`);
    }
    taken.add(code.toLowerCase());
    plants.push({ code, startValue, ...(Object.keys(levels).length > 0 ? { levels } : {}) });
  });
  return { plants, problems };
}

function levelNamed(
  factors: readonly Factor[],
  name: string,
): { factorId: string; levelId: string } | null {
  for (const factor of factors) {
    const level = factor.levels.find((one) => one.name.toLowerCase() === name.toLowerCase());
    if (level) return { factorId: factor.id, levelId: level.id };
  }
  return null;
}

const isHere = (plant: PlanPlant): boolean => plant.lost !== true;

export interface Placement {
  places: { potId: string; plant: string; startValue: number }[];
  spares: string[];
}

/**
 * The listed plants given to the pots of the layout by size class, shuffled by the layout's seed;
 * or the sentence that says why not.
 */
export function placementOf(plan: Plan): Attempt<Placement> {
  const { trial, layout, plants = [] } = plan;
  if (!trial || !layout) return { ok: false, reason: 'No layout has been drawn yet.' };
  return attempt(() => {
    const here: Plant[] = plants.filter(isHere);
    const { assignments, spares } = dealPlants(trial, layout.assignments, here, layout.seed);
    const values = new Map(here.map((plant) => [plant.code, plant.startValue]));
    return {
      spares,
      places: assignments.flatMap(({ potId, plant }) => {
        const startValue = plant === null ? undefined : values.get(plant);
        return plant === null || startValue === undefined ? [] : [{ potId, plant, startValue }];
      }),
    };
  });
}

/** Listed plants that stand in no pot and are not lost. */
export const sparePlantsOf = memo((plan: Plan): PlanPlant[] => {
  const standing = new Set(plan.layout?.assignments.map((assignment) => assignment.plant));
  return (plan.plants ?? []).filter((plant) => isHere(plant) && !standing.has(plant.code));
});

/** Spares for the plant that stands in a pot: of its kind, the nearest in size first. */
export function substitutesInPot(plan: Plan, potId: string): PlanPlant[] {
  const assignment = plan.layout?.assignments.find((one) => one.potId === potId);
  const lost = plan.plants?.find((plant) => plant.code === assignment?.plant);
  return lost ? substitutesFor(lost, sparePlantsOf(plan)) : [];
}

/** How plants are shared out by size: a treatment takes one of every class, or its times. */
export interface SizeClasses {
  pots: number;
  classes: number;
  /** Plants in each; null where treatments have unequal numbers of pots, so that classes differ. */
  perClass: number | null;
  /** Some treatment is drawn more often than once, and takes as many plants of a class. */
  repeated: boolean;
}

export function sizeClassesOf(plan: Plan): SizeClasses | null {
  const { trial, layout } = plan;
  if (!trial || !layout || layout.assignments.length === 0) return null;
  const timesOf = new Map(treatmentsOfPlan(plan).map(({ key, times }) => [key, times]));
  const potsOf = new Map<string, number>();
  for (const { levels } of layout.assignments) {
    const key = treatmentKey(trial, levels);
    potsOf.set(key, (potsOf.get(key) ?? 0) + 1);
  }
  const lots = [...potsOf].map(([key, pots]) => ({ pots, times: timesOf.get(key) ?? 1 }));
  const classes = Math.max(...lots.map(({ pots, times }) => Math.ceil(pots / times)));
  const even = lots.every(({ pots, times }) => pots === times * classes);
  const perClass = lots.reduce((sum, { times }) => sum + times, 0);
  return {
    pots: layout.assignments.length,
    classes,
    perClass: even ? perClass : null,
    repeated: lots.some(({ times }) => times > 1),
  };
}

export function sizeClassWords({ pots, classes, perClass, repeated }: SizeClasses): string {
  const cut = `${pots} pots: plants are ranked by size and cut into ${classes} classes`;
  if (perClass === null) {
    return `${cut}. Treatments differ in their numbers of pots, so not every class has a plant for each. Within a class they are shuffled.`;
  }
  const each = repeated
    ? 'one plant a treatment, or several where it is drawn several times'
    : 'one plant a treatment';
  return `${cut} of ${perClass}, ${each}. Within a class they are shuffled.`;
}
