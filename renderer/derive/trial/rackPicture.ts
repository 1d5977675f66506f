import type { Layout } from '../../../shared-types/layout';
import type { Plan } from '../../../shared-types/plan';
import type { Factor, Trial } from '../../../shared-types/trial/trial';
import { blindedSince } from '../../document/queries/blinding';
import { seenFrom } from '../../document/runs';
import { baysOf, boardRect, potsOfTray, type Rect } from '../../engine/geometry';
import {
  combinationsOf,
  drawLayout,
  treatmentKey,
  trialPotsOf,
  unitIdOf,
} from '../../engine/trial';
import { ppfdByPotOf } from '../light/potLight';
import { layoutToTell } from '../blinding';
import { memo } from '../memo';
import { appliedTrialOf, attempt, startByPotOf, zonesOf } from './trial';

/** What shows which factors: the lamps of a bay, the ground of a tray, or the dot of a pot. */
export const pictureChannels = ['bar', 'ground', 'dot'] as const;
export type PictureChannel = (typeof pictureChannels)[number];

/** A number of what is shown, from 0, as the key lists it; null: nothing is given there. */
type Shown = number | null;

export interface PictureShelf {
  id: string;
  number: number;
  widthMm: number;
  depthMm: number;
  bays: { rect: Rect; shown: Shown }[];
  boards: Rect[];
  trays: { rect: Rect; shown: Shown }[];
  pots: { xMm: number; yMm: number; radiusMm: number; shown: Shown }[];
}

/** The rack in small, from the highest shelf down, coloured by what each part of it is given. */
export interface PictureOfRack {
  shelves: PictureShelf[];
  key: { channel: PictureChannel; names: string[] }[];
  /** No layout is drawn yet: one draw of many stands for it. */
  example: boolean;
}

/** The picture of a plan; `lightOf`: a plan whose light is known, for one that is only thought of. */
export const rackPictureOf = memo((plan: Plan, lightOf: Plan): PictureOfRack | null => {
  const trial = appliedTrialOf(plan);
  if (!trial) return null;
  const levels = levelsByPot(plan, lightOf, trial);
  const pots = new Map(trialPotsOf(plan.rack, zonesOf(plan)).map((pot) => [pot.id, pot]));
  const isBlinded = blindedSince(plan) !== null;
  // Where a fixed level stands is no draw, of which another could be shown.
  const told = trial.factors.filter(({ kind }) => !isBlinded || kind === 'randomised');
  const channels = channelsOf(told);
  const shownAt = (channel: PictureChannel, potIds: readonly string[]): Shown => {
    const { factors, numbers } = channels[channel];
    if (factors.length === 0) return null;
    const there = potIds.flatMap((id) => {
      const pot = pots.get(id);
      const own = pot && levelsOf(factors, id, levels, (unit) => unitIdOf(pot, unit));
      const number = own && numbers.get(treatmentKey({ factors }, own));
      return number ?? [];
    });
    const [first] = there;
    return first !== undefined && there.every((one) => one === first) ? first : null;
  };
  const shelves = [...plan.rack.shelves].reverse().map((shelf): PictureShelf => {
    const own = shelf.trays.map((tray) => ({ tray, pots: potsOfTray(shelf, tray) }));
    const all = own.flatMap((one) => one.pots);
    return {
      id: shelf.id,
      number: shelf.number,
      widthMm: shelf.widthMm,
      depthMm: shelf.depthMm,
      bays: baysOf(shelf).map(({ id, rect }) => ({
        rect,
        shown: shownAt(
          'bar',
          all.filter(({ bayId }) => bayId === id).map((pot) => pot.id),
        ),
      })),
      boards: (shelf.boards ?? []).map((board) => boardRect(shelf, board)),
      trays: own.map(({ tray, pots: inTray }) => ({
        rect: tray,
        shown: shownAt(
          'ground',
          inTray.map((pot) => pot.id),
        ),
      })),
      pots: all.map(({ id, xMm, yMm, diameterMm }) => ({
        xMm,
        yMm,
        radiusMm: diameterMm / 2,
        shown: shownAt('dot', [id]),
      })),
    };
  });
  const key = pictureChannels
    .map((channel) => ({ channel, names: [...channels[channel].names] }))
    .filter(({ names }) => names.length > 0);
  return { shelves, key, example: layoutToTell(plan) === null && levels.size > 0 };
});

interface Channel {
  factors: Factor[];
  /** Number of each combination of their levels, by its key. */
  numbers: Map<string, number>;
  names: string[];
}

/** Colours that can be told apart; factors that would take more are left out of the picture. */
const MOST_NAMES = 8;

/** Factors from the first on, as many as all their combinations can be told apart. */
function tellable(factors: readonly Factor[]): Factor[] {
  let count = 1;
  return factors.filter(({ levels }) => {
    if (count * levels.length > MOST_NAMES) return false;
    count *= levels.length;
    return true;
  });
}

/** Lamps show what is applied through light, dots what single pots get, and trays all else. */
function channelsOf(told: readonly Factor[]): Record<PictureChannel, Channel> {
  const compared = told.filter(({ levels }) => levels.length > 1);
  const channel = (all: Factor[]): Channel => {
    const factors = tellable(all);
    const cells = factors.length === 0 ? [] : combinationsOf(factors);
    return {
      factors,
      numbers: new Map(cells.map(({ levels }, i) => [treatmentKey({ factors }, levels), i])),
      names: cells.map(({ levels }) => namesOf(factors, levels)),
    };
  };
  const isLight = (factor: Factor): boolean => factor.appliedThrough === 'light';
  return {
    bar: channel(compared.filter((one) => isLight(one) && !isFine(one.unit))),
    ground: channel(compared.filter((one) => !isLight(one) && !isFine(one.unit))),
    dot: channel(compared.filter(({ unit }) => isFine(unit))),
  };
}

const isFine = (unit: Factor['unit']): boolean => {
  switch (unit) {
    case 'pot':
    case 'row-strip':
    case 'column-strip':
      return true;
    case 'shelf':
    case 'zone':
    case 'bay':
    case 'tray':
      return false;
  }
};

const namesOf = (factors: readonly Factor[], levels: Readonly<Record<string, string>>): string =>
  factors
    .map((factor) => factor.levels.find(({ id }) => id === levels[factor.id])?.name ?? '')
    .join(' · ');

/** The levels of a pot: as drawn, and of fixed factors as given to its unit. */
function levelsOf(
  factors: readonly Factor[],
  potId: string,
  drawn: ReadonlyMap<string, Readonly<Record<string, string>>>,
  unitId: (unit: Factor['unit']) => string,
): Record<string, string> {
  const own = drawn.get(potId) ?? {};
  return Object.fromEntries(
    factors.map((factor) => {
      const given = factor.where.find((place) => place.unitId === unitId(factor.unit));
      return [factor.id, own[factor.id] ?? given?.levelId ?? ''];
    }),
  );
}

/** The layout's levels, or those of one quick draw; none where nothing can be drawn. */
function levelsByPot(
  plan: Plan,
  lightOf: Plan,
  trial: Trial,
): Map<string, Readonly<Record<string, string>>> {
  const byPot = (layout: Pick<NonNullable<Plan['layout']>, 'assignments'>) =>
    new Map(layout.assignments.map(({ potId, levels }) => [potId, levels]));
  const layout = layoutToTell(plan) ?? exampleLayout(plan, lightOf, trial);
  return layout ? byPot(layout) : new Map();
}

/** One quick draw of many; null where nothing can be drawn. A swapped run's follows that of its first. */
function exampleLayout(plan: Plan, lightOf: Plan, trial: Trial): Layout | null {
  // What is bound to another run's draw would tell that of a blinded one.
  const swap = blindedSince(plan) === null ? plan.swap : undefined;
  const from = swap && seenFrom(plan, swap.fromRun);
  const first = from && (layoutToTell(from) ?? exampleLayout(from, lightOf, trial));
  const drawn = attempt(() =>
    drawLayout({
      rack: plan.rack,
      trial: { ...trial, constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null } },
      ppfdByPot: ppfdByPotOf(lightOf),
      startByPot: startByPotOf(plan),
      zones: zonesOf(plan),
      ...(swap && first ? { bound: { swap, assignments: first.assignments } } : {}),
      seed: 'picture',
      drawnAt: '',
      engineVersion: '',
    }),
  );
  return drawn.ok ? drawn.value.layout : null;
}
