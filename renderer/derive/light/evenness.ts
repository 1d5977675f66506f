import type { LightPlan } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import type { Rack } from '../../../shared-types/rack';
import { blindedSince } from '../../document/queries/blinding';
import { baysOf, trayCode } from '../../engine/geometry';
import {
  evenness,
  potLight,
  type LightUncertainty,
  type Evenness,
  type LightSource,
  type PotLight,
} from '../../engine/light';
import { potLightOf, type LightCounted } from './potLight';
import { lampOutputOf } from './lampFile';
import { memo } from '../memo';
import { burntDaysOf } from './burntDays';
import { blockByPotOf, placedPotsOf, potsOf } from '../trial/trial';

/** Light between which a figure may lie, by the published ranges of the lamps' factors. */
export interface Interval {
  lowest: number;
  highest: number;
}

const WIDE_ENOUGH = 0.01;

const endsMemo = memo(
  (rack: Rack, light: LightPlan, outdated: ReadonlySet<string>, burntDays: number) => {
    const fluxes = new Map(
      rack.lampKinds.flatMap((kind) => {
        const output = lampOutputOf(kind);
        // One whose flux cannot be told is named by the shelf that carries the lamp.
        return output.ok ? [[kind.id, output.value.flux] as const] : [];
      }),
    );
    if ([...fluxes.values()].every(({ lowest, highest }) => lowest === highest)) return null;
    // Readings hold for the lamps as they hang, whatever their figures are taken to be.
    const readings = light.readings
      .filter(({ id }) => !outdated.has(id))
      .map(({ of: _, ...reading }) => reading);
    const at = (end: 'lowest' | 'highest'): PotLight => {
      const lampKinds = rack.lampKinds.map((kind) => {
        const flux = fluxes.get(kind.id);
        if (!flux || flux.lowest === flux.highest) return kind;
        return { ...kind, output: { kind: 'photons' as const, fluxUmolS: flux[end] } };
      });
      return potLight({ ...rack, lampKinds }, { ...light, readings, burntDays });
    };
    return { lowest: at('lowest'), highest: at('highest') };
  },
);

const intervalMemo = memo(
  (...basis: Parameters<typeof endsMemo>): ReadonlyMap<string, Interval> => {
    const ends = endsMemo(...basis);
    const intervals = new Map<string, Interval>();
    if (!ends) return intervals;
    for (const [id, { ppfdUmol: lowest }] of ends.lowest.pots) {
      const highest = ends.highest.pots.get(id)?.ppfdUmol ?? lowest;
      if (highest - lowest > (WIDE_ENOUGH * (highest + lowest)) / 2) {
        intervals.set(id, { lowest, highest });
      }
    }
    return intervals;
  },
);

/**
 * PPFD by pot id between the ends of the lamps' published factors (lumens to photons); only pots
 * where the two ends are more than 1 % apart. Readings settle the factor: calibrated pots have none.
 */
export function lightIntervalsOf(plan: Plan): ReadonlyMap<string, Interval> {
  const burntDays = burntDaysOf(plan, plan.light.canopyAt);
  return intervalMemo(plan.rack, plan.light, potLightOf(plan).outdated, burntDays);
}

export type GroupedBy = 'tray' | 'bay' | 'shelf' | 'block' | 'treatment';

/** Evenness over the pots of a tray, bay, shelf, block or treatment. */
export interface LightGroup {
  /** `tray:t1`, `shelf:s1`, `block:Shelf 1`, `treatment:A`. */
  ref: string;
  name: string;
  evenness: Evenness;
  /** Without the guard pots; null where all are guard pots. */
  withoutGuards: Evenness | null;
  /** Mean DLI over the same pots: bays may burn for unlike hours. */
  dliMol: number;
  dliWithoutGuardsMol: number | null;
  /** `mixed`: some shelves have readings, others none. */
  source: LightSource | 'mixed';
  /** Of the mean, where the published ranges are wider than 1 %. */
  interval: Interval | null;
  /** Trays and shelves: how far their mean may be off. */
  uncertainty: LightUncertainty | null;
}

function groupOf(
  plan: Plan,
  light: PotLight,
  named: { ref: string; name: string; uncertainty?: LightUncertainty | undefined },
  pots: readonly { id: string; guard: boolean }[],
): LightGroup[] {
  const lit = pots.filter((pot) => light.pots.has(pot.id));
  if (lit.length === 0) return [];
  const over = (some: readonly { id: string }[]) =>
    some.length > 0 ? evenness(some.map(({ id }) => light.pots.get(id)?.ppfdUmol ?? 0)) : null;
  const dliOver = (some: readonly { id: string }[]) =>
    some.reduce((sum, { id }) => sum + (light.pots.get(id)?.dliMol ?? 0), 0) / some.length;
  const inner = lit.filter((pot) => !pot.guard);
  const all = over(lit);
  if (!all) return [];
  const sources = new Set(lit.map((pot) => light.pots.get(pot.id)?.source ?? 'estimated'));
  const [first = 'estimated'] = sources;
  const intervals = lightIntervalsOf(plan);
  const meanOf = (end: 'lowest' | 'highest') =>
    lit.reduce((sum, { id }) => {
      const own = light.pots.get(id)?.ppfdUmol ?? 0;
      return sum + (intervals.get(id)?.[end] ?? own);
    }, 0) / lit.length;
  const some = lit.some((pot) => intervals.has(pot.id));
  return [
    {
      ref: named.ref,
      name: named.name,
      evenness: all,
      withoutGuards: over(inner),
      dliMol: dliOver(lit),
      dliWithoutGuardsMol: inner.length > 0 ? dliOver(inner) : null,
      source: sources.size > 1 ? 'mixed' : first,
      interval: some ? { lowest: meanOf('lowest'), highest: meanOf('highest') } : null,
      uncertainty: named.uncertainty ?? null,
    },
  ];
}

/**
 * Evenness by tray, bay, shelf, block or treatment. Blocks and treatments are those of the drawn layout,
 * blocks also those that the trial's plan would make; guard pots belong to neither.
 */
export function lightGroupsOf(
  plan: Plan,
  by: GroupedBy,
  counted: LightCounted = 'reflected',
): LightGroup[] {
  return groupsMemo(plan, by, potLightOf(plan, counted));
}

const groupsMemo = memo((plan: Plan, by: GroupedBy, light: PotLight): LightGroup[] => {
  const pots = potsOf(plan);
  if (by === 'shelf') {
    return plan.rack.shelves.flatMap((shelf) =>
      groupOf(
        plan,
        light,
        {
          ref: `shelf:${shelf.id}`,
          name: `Shelf ${shelf.number}`,
          uncertainty: light.shelves.get(shelf.id)?.uncertainty,
        },
        pots.filter((pot) => pot.shelfId === shelf.id),
      ),
    );
  }
  if (by === 'bay') {
    return plan.rack.shelves.flatMap((shelf) =>
      baysOf(shelf).flatMap(({ id, name }) =>
        groupOf(
          plan,
          light,
          { ref: `bay:${id}`, name: `Bay ${name}`, uncertainty: light.bays.get(id)?.uncertainty },
          pots.filter((pot) => pot.bayId === id),
        ),
      ),
    );
  }
  if (by === 'tray') {
    return plan.rack.shelves.flatMap((shelf) =>
      shelf.trays.flatMap((tray) =>
        groupOf(
          plan,
          light,
          {
            ref: `tray:${tray.id}`,
            name: `Tray ${trayCode(shelf.number, tray.letter)}`,
            uncertainty: light.trays.get(tray.id)?.uncertainty,
          },
          pots.filter((pot) => pot.trayId === tray.id),
        ),
      ),
    );
  }
  const names = by === 'block' ? blockNamesOf(plan) : treatmentNamesOf(plan);
  const byName = new Map<string, { id: string; guard: boolean }[]>();
  for (const pot of pots) {
    const name = names.get(pot.id);
    if (name !== undefined) byName.set(name, [...(byName.get(name) ?? []), pot]);
  }
  return [...byName]
    .sort(([a], [b]) => a.localeCompare(b, 'en', { numeric: true }))
    .flatMap(([name, own]) => groupOf(plan, light, { ref: `${by}:${name}`, name }, own));
}, 12);

function blockNamesOf(plan: Plan): ReadonlyMap<string, string> {
  const placed = placedPotsOf(plan);
  if (placed.size === 0) return blockByPotOf(plan);
  return new Map([...placed].map(([id, { block }]) => [id, block]));
}

function treatmentNamesOf(plan: Plan): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  // The light of a treatment tells which it is.
  if (blindedSince(plan) !== null) return names;
  for (const [id, { treatment }] of placedPotsOf(plan)) {
    if (treatment) names.set(id, `${treatment.letter}  ${treatment.name}`);
  }
  return names;
}

/** The groupings that the plan has something for. */
export function groupingsOf(plan: Plan): GroupedBy[] {
  const groupings: GroupedBy[] = ['shelf', 'tray'];
  if (plan.rack.shelves.some((shelf) => baysOf(shelf).length > 1)) groupings.splice(1, 0, 'bay');
  if (blockNamesOf(plan).size > 0) groupings.push('block');
  if (treatmentNamesOf(plan).size > 0) groupings.push('treatment');
  return groupings;
}
