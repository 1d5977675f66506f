import type { LightPlan } from '../../../shared-types/light';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { potsOfTray, trayCanopyMm } from '../../engine/geometry';
import {
  lightAtOwnHeight,
  shelvesInRoom,
  type LightBasis,
  type OwnHeightLight,
} from '../../engine/light';
import { noticesOfStage, percent, unlessRefused, sayDay } from '../../words';
import { memo } from '../memo';
import { placedPotsOf } from '../trial/trial';
import { recordedHeightsOf } from './heights';
import { lightBasisOf } from './potLight';

/** The light at each plant's own height, and what its taller neighbours take of it. */
export interface LightAtOwnHeights {
  /** The measurement that tells the heights and its day; null: the canopy heights of the trays. */
  recorded: { name: string; date: string } | null;
  pots: ReadonlyMap<string, OwnHeightLight>;
}

// Shelf by shelf: recorded tops by pot id, or null where the trays' canopies stand for them.
const shelfMemo = memo(
  (
    shelf: Shelf,
    lampKinds: readonly LampKind[],
    light: LightBasis,
    tops: ReadonlyMap<string, number> | null,
    marks: Plan['records']['marks'],
  ): OwnHeightLight[] => {
    const rims = new Map(
      shelf.trays.flatMap((tray) => potsOfTray(shelf, tray).map((pot) => [pot.id, pot.heightMm])),
    );
    const gone = (potId: string) => {
      const mark = marks[potId]?.mark;
      return mark === 'dead' || mark === 'missing';
    };
    const heightOf = (potId: string) =>
      gone(potId) ? (rims.get(potId) ?? null) : (tops?.get(potId) ?? null);
    return unlessRefused(() => lightAtOwnHeight(shelf, lampKinds, light, heightOf)) ?? [];
  },
  60,
);

const allMemo = memo(
  (
    rack: Plan['rack'],
    light: LightBasis,
    heights: ReturnType<typeof recordedHeightsOf>,
    marks: Plan['records']['marks'],
  ): LightAtOwnHeights | null => {
    const last = heights.at(-1) ?? null;
    const tops = last?.topByPot ?? null;
    const shelves = shelvesInRoom(rack).filter(
      (shelf) => shelf.lamps.length > 0 && isUneven(shelf, light.canopyAt, tops),
    );
    if (shelves.length === 0) return null;
    const pots = shelves.flatMap((shelf) => shelfMemo(shelf, rack.lampKinds, light, tops, marks));
    return {
      recorded: last && { name: last.measurement.name, date: last.date },
      pots: new Map(pots.map((pot) => [pot.potId, pot])),
    };
  },
  4,
);

/** Whether plants of a shelf are known to stand at unlike heights. */
function isUneven(
  shelf: Shelf,
  canopyAt: LightPlan['canopyAt'],
  tops: ReadonlyMap<string, number> | null,
): boolean {
  const heights = tops
    ? shelf.trays.flatMap((tray) => potsOfTray(shelf, tray).flatMap(({ id }) => tops.get(id) ?? []))
    : shelf.trays.map((tray) => trayCanopyMm(shelf, tray, canopyAt));
  return new Set(heights).size > 1;
}

/**
 * Light at plants' own heights by the latest that were recorded, or by trays' canopies where some
 * differ; null where all plants are taken to be of one height.
 */
export function lightAtOwnHeightsOf(plan: Plan): LightAtOwnHeights | null {
  return allMemo(plan.rack, lightBasisOf(plan), recordedHeightsOf(plan), plan.records.marks);
}

/** Between what the share of one treatment lies, which the width of leaves decides. */
const leavesWords = ({ lowest, highest }: { lowest: number; highest: number }) =>
  `It is ${percent(lowest)} with narrow leaves and ${percent(highest)} where leaves touch.`;

const lightNotice = noticesOfStage('light');
// Lost by one treatment more than by another: as much as makes a tray be called uneven.
const MOST_APART = 0.1;
const LEAST_POTS = 3;

/** Treatments of unlike height side by side, one of which the others shade. */
export function shadeNotices(plan: Plan, drawn: Plan): Notice[] {
  const found = lightAtOwnHeightsOf(plan);
  if (!found) return [];
  const byTreatment = new Map<string, OwnHeightLight[]>();
  for (const [potId, { treatment }] of placedPotsOf(drawn)) {
    const pot = found.pots.get(potId);
    if (!treatment || !pot) continue;
    byTreatment.set(treatment.name, [...(byTreatment.get(treatment.name) ?? []), pot]);
  }
  const means = [...byTreatment]
    .filter(([, pots]) => pots.length >= LEAST_POTS)
    .map(([name, pots]) => {
      const mean = (of: (pot: OwnHeightLight) => number) =>
        pots.reduce((sum, pot) => sum + of(pot), 0) / pots.length;
      return {
        name,
        share: mean((pot) => pot.shadedShare),
        lowest: mean((pot) => pot.shadedLowest),
        highest: mean((pot) => pot.shadedHighest),
      };
    })
    .sort((a, b) => b.share - a.share);
  const [most, least] = [means[0], means.at(-1)];
  if (!most || !least || most.share - least.share < MOST_APART) return [];
  const by = found.recorded
    ? `by the heights of ${sayDay(found.recorded.date)}`
    : 'by the canopy heights of the trays';
  return [
    lightNotice(
      'neighbours-shade',
      'warn',
      ['plan'],
      `Plants of ${most.name} lose about ${percent(most.share)} of their light to taller neighbours, those of ${least.name} ${percent(least.share)} (estimated ${by}). ${leavesWords(most)} Part of their difference may be this shade.`,
      'Give treatments of unlike height trays or bays of their own, or set pots farther apart; in this trial say it beside the result.',
    ),
  ];
}
