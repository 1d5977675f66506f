import type { LampKind, Shelf } from '../../../shared-types/rack';
import { lampFlux } from '../lamps';
import { add, real } from '../entry';
import { roomLight } from './around/outside';
import { shelfModel, type ModelRequest, type ShelfModel } from './model';
import { deviationOf } from './range';
import type { PointMm } from './sources/direct';

/*
 * What is not known of a shelf's light before anyone has measured it, each as ± a share: see `deviationOf`.
 */
/** Flux against the label. Published: verification tolerance of lumens, US DOE LED Lighting Facts, −9.6 %. */
const STATED_OUTPUT = 0.1;
/** Common practice, no source, as are those below: one lamp, or one driver, against the next. */
const ONE_LAMP = 0.05;
const ONE_GROUP = 0.05;
export const HEIGHT_MM = 10;
/** Of the part of the light that is reflected. */
export const REFLECTED_PART = 0.2;
/** Of what nobody drew, smooth over the shelf: lamps a little aside or tilted, light of the room, leaves. */
export const PATTERN = 0.03;
/** At a single pot: its place and its own height. */
export const SINGLE_POT = 0.02;

/** Relative uncertainty about the shelf's photon flux: the range of lumens, or a maker's tolerance. */
export function outputUncertainty(shelf: Shelf, lampKinds: readonly LampKind[]): number {
  let flux = 0;
  let uncertainty = 0;
  for (const lamp of shelf.lamps) {
    const kind = lampKinds.find((k) => k.id === lamp.kindId);
    if (!kind) continue;
    const { umolS, lowest, highest } = lampFlux(kind, lamp);
    flux += umolS;
    const range = Math.max(highest - umolS, umolS - lowest);
    uncertainty += range > 0 ? range : STATED_OUTPUT * umolS;
  }
  return flux > 0 ? uncertainty / flux : 0;
}

/** What one standard deviation of each part does to the light at each point, as a share of it. */
export interface PartsAt {
  /** All lamps together, of which the room's light is none. */
  output: Float64Array;
  height: Float64Array;
  reflected: Float64Array;
  /** Light of the room: of its lamps by the range that is typed, of what it gives back by its surfaces. */
  room: Float64Array;
  /** One a lamp, one a group. */
  lamps: Float64Array[];
  groups: Float64Array[];
  /** Share of each group in the light. */
  shares: Float64Array[];
}

/** The parts as columns, in an order of its own for one shelf. */
export const columnsOf = ({ output, height, reflected, room, lamps, groups }: PartsAt) => [
  output,
  height,
  reflected,
  room,
  ...lamps,
  ...groups,
];

/** Makes ready what is not known of a shelf's estimate: asked at points with the estimate there. */
export function errorParts(
  shelf: Shelf,
  lampKinds: readonly LampKind[],
  model: ShelfModel,
  request: ModelRequest,
): (points: readonly PointMm[]) => PartsAt {
  const output = deviationOf(outputUncertainty(shelf, lampKinds));
  const each = shelf.lamps.map((lamp) => ({ ...lamp, group: lamp.id }));
  const bare = shelfModel({ ...shelf, lamps: each }, lampKinds, { ...request, reflected: false });
  return (points) => {
    const ppfd = model.at(points);
    const share = (values: Float64Array, factor: number) =>
      values.map((value, i) => (real(ppfd, i) > 0 ? (factor * value) / real(ppfd, i) : 0));
    const byLamp = each.map(({ group }) => bare.at(points, (g) => (g === group ? 1 : 0)));
    const direct = new Float64Array(points.length);
    for (const values of byLamp) values.forEach((value, i) => add(direct, i, value));
    const raised = model.at(points.map((p) => ({ ...p, zMm: p.zMm + HEIGHT_MM })));
    const changed = raised.map((value, i) => value - real(ppfd, i));
    const room = roomLight(model, shelf, points);
    const back = ppfd.map((value, i) =>
      Math.max(0, value - real(direct, i) - real(room.ppfd, i) - real(room.returned, i)),
    );
    // What is reflected is taken to come from the groups as the direct light does.
    const byGroup = model.groups.map((group) => {
      const sum = new Float64Array(points.length);
      shelf.lamps.forEach((lamp, l) => {
        if (lamp.group === group) byLamp[l]?.forEach((value, i) => add(sum, i, value));
      });
      return sum.map((value, i) => (real(direct, i) > 0 ? value / real(direct, i) : 0));
    });
    const several = byGroup.length > 1 ? byGroup : [];
    const roomShare = share(room.ppfd, 1);
    return {
      output: roomShare.map((value) => output * (1 - value)),
      height: share(changed, deviationOf(1)),
      reflected: share(back, deviationOf(REFLECTED_PART)),
      room: share(room.off, deviationOf(1)),
      lamps: byLamp.map((values) => share(values, deviationOf(ONE_LAMP))),
      groups: several.map((values) => values.map((value) => value * deviationOf(ONE_GROUP))),
      shares: byGroup,
    };
  };
}
