import type { Plan } from '../../../shared-types/plan';
import type { Lamp, Shelf } from '../../../shared-types/rack';
import { list, plural, speechIn, type Speech } from '../../words';
import { potLitres, pottedPots, type PottedPot } from '../flood';
import { baysOf, type Bay } from '../geometry';
import { lampsHungIn } from './lamps';
import { carriedLevels, settingsAt, type CarriedLevels } from './levels';
import { sizeOf } from './pots';
import { treatedBy, type RackAsTreated, type TreatedFrom } from './treated';
import { floodWords, hoursWords, lampWords, solutionWords } from './words';

/** One thing to set up by hand before planting. */
export interface SetupLine {
  /** Where: `Shelf 2, left bay`, a reservoir, a medium. */
  place: string;
  /** The levels that are set there; '' where a line is of no single level. */
  levels: string;
  what: string;
}

/** What to hang, to fill and to mix, so that the rack becomes the one that was drawn by the shuffle. */
export interface SetupList {
  lamps: SetupLine[];
  water: SetupLine[];
  media: SetupLine[];
  pots: SetupLine[];
}

type From = TreatedFrom & Pick<Plan, 'light' | 'display'>;

/** Everything that levels set on bays, reservoirs and pots, with what is there as drawn beside it. */
export function setupList(from: From): SetupList {
  const carried = carriedLevels(from, { as: 'treated' });
  const treated = treatedBy(from, carried);
  const say = speechIn(from.display.lengths);
  return {
    lamps: treated.rack.shelves.flatMap((shelf) =>
      baysOf(shelf).flatMap((bay) => bayLine(from, shelf, bay, carried, say)),
    ),
    water: (treated.flood?.zones ?? []).flatMap((zone): SetupLine[] => {
      const levels = levelsAt(carried, 'water', zone.id);
      if (levels === '') return [];
      const solution = solutionWords(settingsAt(carried, 'water', zone.id) ?? {});
      const parts = [solution, say.volume(zone.reservoirL), floodWords(zone, say)];
      return [{ place: zone.name, levels, what: parts.filter((part) => part !== null).join(', ') }];
    }),
    media: acts(carried, 'medium') ? mediaLines(treated, say) : [],
    pots: acts(carried, 'hand') ? potLines(carried, say) : [],
  };
}

/** Shelf and bay as a person at the rack finds them. */
function bayPlace(shelf: Shelf, bay: Bay): string {
  const where = bay.name.replace(/^\d+ ?/, '');
  return where === '' ? `Shelf ${shelf.number}` : `Shelf ${shelf.number}, ${where} bay`;
}

function bayLine(
  { light, rack }: From,
  shelf: Shelf,
  bay: Bay,
  carried: readonly CarriedLevels[],
  say: Speech,
): SetupLine[] {
  const levels = levelsAt(carried, 'light', bay.id);
  if (levels === '') return [];
  const lamps = lampsHungIn(shelf, bay);
  const parts = [
    lampWords(lamps, rack.lampKinds),
    ...(settingsAt(carried, 'light', bay.id)?.hanging ? [hungWords(lamps, say)] : []),
    hoursWords(bay.photoperiodHours ?? light.photoperiodHours),
  ];
  return [{ place: bayPlace(shelf, bay), levels, what: parts.join(', ') }];
}

/** Where lamps of a bay's own hang, by their middles from the shelf's left and front. */
function hungWords(lamps: readonly Lamp[], say: Speech): string {
  const [first] = lamps;
  if (!first) return '';
  const lie = first.rotationDeg === 0 ? 'along the shelf' : 'across the shelf';
  const middles = lamps.map(({ xMm, yMm }) => `${say.length(xMm)} / ${say.length(yMm)}`);
  return `hung ${say.length(first.zMm)} above the shelf ${lie}, middles from left / front at ${list(middles)}`;
}

const potsIn = ({ rack, flood }: RackAsTreated): PottedPot[] =>
  flood
    ? rack.shelves.flatMap((shelf) => shelf.trays.flatMap((tray) => pottedPots(flood, shelf, tray)))
    : [];

/** Each medium with the pots that it fills to the brim, guard pots among them. */
function mediaLines(treated: RackAsTreated, say: Speech): SetupLine[] {
  const pots = potsIn(treated);
  return (treated.flood?.media ?? []).flatMap((medium): SetupLine[] => {
    const own = pots.filter((pot) => pot.medium?.id === medium.id);
    if (own.length === 0) return [];
    const litres = own.reduce((sum, pot) => sum + potLitres(pot), 0);
    const what = `${plural(own.length, 'pot')}, ${say.volume(litres)} filled loosely`;
    return [{ place: medium.name, levels: '', what }];
  });
}

/** Pots of a size of their own, by the level that says so. */
function potLines(carried: readonly CarriedLevels[], say: Speech): SetupLine[] {
  return carried
    .filter(({ factor }) => factor.appliedThrough === 'hand')
    .flatMap(({ factor, levelIds }) =>
      factor.levels.flatMap((level): SetupLine[] => {
        const own = [...levelIds].filter(([, id]) => id === level.id).map(([potId]) => potId);
        const size = sizeOf(carried, own[0] ?? '');
        if (!size || level.settings === undefined) return [];
        const sides = [
          ...(size.diameterMm === undefined ? [] : [`${say.length(size.diameterMm)} across`]),
          ...(size.heightMm === undefined ? [] : [`${say.length(size.heightMm)} high`]),
        ];
        const what = `${plural(own.length, 'pot')} ${sides.join(', ')}`;
        return [{ place: factor.name, levels: level.name, what }];
      }),
    );
}

const acts = (carried: readonly CarriedLevels[], through: 'medium' | 'hand'): boolean =>
  carried.some(({ factor, levelIds }) => factor.appliedThrough === through && levelIds.size > 0);

/** Names of the levels of all factors of one kind at a carrier: `bright`, `bright and long`. */
function levelsAt(
  carried: readonly CarriedLevels[],
  through: CarriedLevels['factor']['appliedThrough'],
  carrierId: string,
): string {
  return list(
    carried.flatMap(({ factor, levelIds }) =>
      factor.appliedThrough === through
        ? factor.levels.filter(({ id }) => id === levelIds.get(carrierId)).map(({ name }) => name)
        : [],
    ),
  );
}
