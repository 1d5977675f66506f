import type { Assignment } from '../../../../shared-types/layout';
import type { Trial } from '../../../../shared-types/trial/trial';
import { shuffle, stream } from '../stream';
import type { Stream } from '../stream';
import { treatmentKey, treatmentsOf } from '../treatments';
import { Refusal } from '../../../words';

/** A plant weighed (or counted, or measured) before it is given a pot. */
export interface Plant {
  code: string;
  startValue: number;
  /** Levels that the plant brings with it, such as its cultivar, by factor id. */
  levels?: Readonly<Record<string, string>> | undefined;
}

/**
 * Gives plants to pots so that treatments start alike: the plants are ranked by starting value and
 * cut into size classes of one plant a treatment; within a class it is chance which treatment gets
 * which plant, and it is chance again which of a treatment's pots it goes to. A plant that brings
 * levels with it only goes where those levels are wanted. Of more plants than pots the most even
 * run of neighbours in rank is used; the others are spare.
 */
export function dealPlants(
  trial: Pick<Trial, 'factors'>,
  assignments: readonly Assignment[],
  plants: readonly Plant[],
  seed: string,
): { assignments: Assignment[]; spares: string[] } {
  checkPlants(plants);
  const random = stream(seed, 'plants');
  const brought = trial.factors.filter((f) => plants.some((p) => p.levels?.[f.id] !== undefined));
  const kindOf = (levels: Readonly<Record<string, string>> | undefined): string =>
    brought.map((factor) => levels?.[factor.id] ?? '').join('+');
  const plantOfPot = new Map<string, string>();
  const used = new Set<string>();
  for (const kind of new Set(assignments.map((a) => kindOf(a.levels)))) {
    const places = assignments.filter((a) => kindOf(a.levels) === kind);
    const own = plants.filter((plant) => kindOf(plant.levels) === kind);
    if (own.length < places.length) {
      const what = places[0] ? broughtNames(brought, places[0].levels) : '';
      throw new Refusal(
        `plants${what}: ${own.length} were found for ${places.length} pots; at least as many plants as pots are expected`,
      );
    }
    const ranked = [...own].sort(
      (a, b) => a.startValue - b.startValue || (a.code < b.code ? -1 : 1),
    );
    const chosen = evenestRun(ranked, places.length);
    for (const [potId, code] of dealBySize(trial, places, chosen, random)) {
      plantOfPot.set(potId, code);
      used.add(code);
    }
  }
  return {
    assignments: assignments.map((a) => ({ ...a, plant: plantOfPot.get(a.potId) ?? null })),
    spares: plants.filter((plant) => !used.has(plant.code)).map((plant) => plant.code),
  };
}

/** Spare plants of a lost one's own kind, the nearest in starting value first. */
export function substitutesFor<P extends Plant>(lost: Plant, spares: readonly P[]): P[] {
  const gap = (spare: Plant) => Math.abs(spare.startValue - lost.startValue);
  return spares
    .filter((spare) =>
      Object.entries(lost.levels ?? {}).every(
        ([factor, level]) => spare.levels?.[factor] === level,
      ),
    )
    .sort((a, b) => gap(a) - gap(b) || (a.code < b.code ? -1 : 1));
}

function checkPlants(plants: readonly Plant[]): void {
  const codes = new Set<string>();
  for (const plant of plants) {
    if (codes.has(plant.code)) {
      throw new Refusal(`plants: code ${plant.code} was found twice; every plant has its own`);
    }
    codes.add(plant.code);
    if (!Number.isFinite(plant.startValue)) {
      throw new Refusal(
        `plant ${plant.code}: a starting value of ${plant.startValue} was found; a number is expected`,
      );
    }
  }
}

function broughtNames(factors: Trial['factors'], levels: Readonly<Record<string, string>>): string {
  const names = factors.map(
    (factor) => factor.levels.find((level) => level.id === levels[factor.id])?.name ?? '',
  );
  return names.length > 0 ? ` of ${names.join(', ')}` : '';
}

/** A treatment's pots parted by lot into as many lots as it has cards, each dealt for like one. */
function lotsOf(pots: string[], times: number, random: Stream): string[][] {
  if (times === 1) return [pots];
  const lots: string[][] = Array.from({ length: times }, () => []);
  shuffle(pots, random).forEach((pot, i) => lots[i % times]?.push(pot));
  return lots.filter((lot) => lot.length > 0);
}

/** The `count` neighbours in rank with the smallest variance. */
function evenestRun(ranked: readonly Plant[], count: number): Plant[] {
  let sum = 0;
  let squares = 0;
  let best = 0;
  let least = Infinity;
  // Sums of deviations from the middle plant, so that the squares keep their digits.
  const middle = ranked[Math.floor(ranked.length / 2)]?.startValue ?? 0;
  ranked.forEach((plant, i) => {
    const value = plant.startValue - middle;
    sum += value;
    squares += value * value;
    const gone = i - count;
    if (gone >= 0) {
      const old = (ranked[gone]?.startValue ?? 0) - middle;
      sum -= old;
      squares -= old * old;
    }
    const spread = squares - (sum * sum) / count;
    if (i >= count - 1 && spread < least - 1e-12) {
      least = spread;
      best = i - count + 1;
    }
  });
  return ranked.slice(best, best + count);
}

/**
 * One plant of every size class to every treatment, and as many as its times say to one that is
 * drawn more often; treatments with fewer pots sit classes out.
 */
function dealBySize(
  trial: Pick<Trial, 'factors'>,
  places: readonly Assignment[],
  ranked: readonly Plant[],
  random: Stream,
): [string, string][] {
  const byTreatment = new Map<string, string[]>();
  for (const place of places) {
    const key = treatmentKey(trial, place.levels);
    const pots = byTreatment.get(key);
    if (pots) pots.push(place.potId);
    else byTreatment.set(key, [place.potId]);
  }
  const timesByKey = new Map(treatmentsOf(trial).map(({ key, times }) => [key, times] as const));
  const treatments = [...byTreatment].flatMap(([key, pots]) =>
    lotsOf(pots, timesByKey.get(key) ?? 1, random),
  );
  const classes = Math.max(...treatments.map((pots) => pots.length));
  const takers: number[][] = Array.from({ length: classes }, () => []);
  treatments.forEach((pots, t) => {
    const order = shuffle(
      Array.from({ length: classes }, (_, c) => c),
      random,
    );
    for (const c of order.slice(0, pots.length)) takers[c]?.push(t);
    shuffle(pots, random);
  });
  const dealt: [string, string][] = [];
  let next = 0;
  for (const taking of takers) {
    for (const t of shuffle(taking, random)) {
      const potId = treatments[t]?.pop();
      const plant = ranked[next++];
      if (potId !== undefined && plant) dealt.push([potId, plant.code]);
    }
  }
  return dealt;
}
