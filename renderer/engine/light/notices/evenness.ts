import type { LightPlan } from '../../../../shared-types/light';
import type { Layout } from '../../../../shared-types/layout';
import type { Notice } from '../../../../shared-types/notice';
import type { Rack, Shelf, Tray } from '../../../../shared-types/rack';
import { baysOf, potsOfRack, potsOfTray, trayCode } from '../../geometry';
import { evenness, type Evenness } from '../evenness';
import type { PotLight } from '../potLight';
import { lightNotice } from './lightNotice';
import { figure, plural, say, type UnitSystem } from '../../../words';

/** A tray, or its part in one bay, with the light of the pots that count there. */
interface Place {
  about: string[];
  what: string;
  judged: Evenness;
  where: string;
  potIds: string[];
}

/**
 * A tray by the bays that it stands in, for under a board two lights are meant. Pots that are no
 * guard pots count, or all of them where there are no others.
 */
function placesOfTray(shelf: Shelf, tray: Tray, light: PotLight, lengths: UnitSystem): Place[] {
  const summary = light.trays.get(tray.id);
  if (!summary) return [];
  const bays = baysOf(shelf);
  const pots = potsOfTray(shelf, tray).filter(({ id }) => light.pots.has(id));
  const parts = bays
    .map((bay) => ({ bay, own: pots.filter(({ bayId }) => bayId === bay.id) }))
    .filter(({ own }) => own.length > 0);
  return parts.map(({ bay, own }) => {
    const analysed = own.filter(({ guard }) => !guard);
    const counted = analysed.length > 0 ? analysed : own;
    const name = `Tray ${trayCode(shelf.number, tray.letter)}`;
    return {
      about: [`tray:${tray.id}`],
      what: parts.length > 1 ? `${name} in bay ${bay.name}` : name,
      judged: evenness(counted.map(({ id }) => light.pots.get(id)?.ppfdUmol ?? 0)),
      where: `at ${say('length', lengths, summary.heightMm)} (${summary.source})`,
      potIds: analysed.map(({ id }) => id),
    };
  });
}

/** Light outside the plan's target: a warning for a tray's mean, a note for single pots. */
export function targetNotices(
  shelf: Shelf,
  tray: Tray,
  plan: LightPlan,
  light: PotLight,
  lengths: UnitSystem,
): Notice[] {
  const target = plan.targetPpfdUmol;
  if (!target) return [];
  return placesOfTray(shelf, tray, light, lengths).flatMap((place) => outside(place, target));
}

function outside(
  { about, what, judged, where }: Place,
  target: NonNullable<LightPlan['targetPpfdUmol']>,
): Notice[] {
  const notices: Notice[] = [];
  const mean = `${what} gets a mean of ${figure(judged.mean)} µmol m⁻² s⁻¹ ${where}`;
  const range = `the plan asks for ${figure(target.lowest)} to ${figure(target.highest)}`;
  const nearer = 'Hang the lamps lower, dim them less or add one; or lower the target.';
  const farther = 'Hang the lamps higher or dim them; or raise the target.';
  if (judged.mean < target.lowest) {
    notices.push(lightNotice('light-too-low', 'warn', about, `${mean}; ${range}.`, nearer));
  } else if (judged.min < target.lowest) {
    const text = `${mean}, but its darkest pot only ${figure(judged.min)}; ${range}.`;
    notices.push(lightNotice('light-too-low', 'note', about, text, nearer));
  }
  if (judged.mean > target.highest) {
    notices.push(lightNotice('light-too-high', 'warn', about, `${mean}; ${range}.`, farther));
  } else if (judged.max > target.highest) {
    const text = `${mean}, but its brightest pot ${figure(judged.max)}; ${range}.`;
    notices.push(lightNotice('light-too-high', 'note', about, text, farther));
  }
  return notices;
}

interface Block {
  name: string;
  potIds: string[];
  found: Evenness;
}

/** Blocks of the drawn layout, by bay, with the light of their pots; none where all pots are one block. */
function blocksOf(layout: Layout | null, light: PotLight, rack: Rack): Block[] {
  if (!layout) return [];
  const bayOfPot = new Map(potsOfRack(rack).map(({ id, bayId }) => [id, bayId]));
  const byName = new Map<string, Map<string, string[]>>();
  for (const { block, potId } of layout.assignments) {
    const bayId = bayOfPot.get(potId);
    if (!light.pots.has(potId) || bayId === undefined) continue;
    const byBay = byName.get(block) ?? new Map<string, string[]>();
    const own = byBay.get(bayId) ?? [];
    own.push(potId);
    byName.set(block, byBay.set(bayId, own));
  }
  if (byName.size < 2) return [];
  return [...byName].flatMap(([name, byBay]) =>
    [...byBay.values()].map((potIds) => ({
      name,
      potIds,
      found: evenness(potIds.map((id) => light.pots.get(id)?.ppfdUmol ?? 0)),
    })),
  );
}

/**
 * Uneven light within trays and, once a layout is drawn, within its blocks. A tray whose pots all
 * stand in even blocks is only noted: there the blocks take up what the lamps do. A block that is
 * a whole tray is spoken of as that tray.
 */
export function unevenNotices(
  rack: Rack,
  lit: readonly Shelf[],
  plan: LightPlan,
  layout: Layout | null,
  light: PotLight,
  lengths: UnitSystem,
): Notice[] {
  const limit = plan.lowestMinToMean;
  const blocks = blocksOf(layout, light, rack);
  const blockOf = new Map(blocks.flatMap((block) => block.potIds.map((id) => [id, block])));
  const even = (block: Block | undefined) =>
    block !== undefined && (block.found.minToMean ?? 1) >= limit;
  const places = lit.flatMap((shelf) =>
    shelf.trays.flatMap((tray) => placesOfTray(shelf, tray, light, lengths)),
  );
  const trays = places.flatMap((place) => {
    const found = unevenNotice(place.about, place.what, place.judged, limit, place.where);
    if (!found) return [];
    if (place.potIds.length > 0 && place.potIds.every((id) => even(blockOf.get(id)))) {
      const text = `${found.text} Its blocks are even, so that the comparison does not suffer.`;
      return [{ ...found, severity: 'note' as const, text }];
    }
    return [found];
  });
  const whole = new Set(
    blocks.length > 0 ? places.map(({ potIds }) => [...potIds].sort().join(' ')) : [],
  );
  const uneven = blocks.flatMap((block) => {
    if (whole.has([...block.potIds].sort().join(' '))) return [];
    const found = unevenNotice(
      [`block:${block.name}`],
      `Block “${block.name}”`,
      block.found,
      limit,
    );
    return found ? [found] : [];
  });
  return [...trays, ...uneven];
}

/** The notice for a tray or block whose min:mean falls under the limit, or null. */
function unevenNotice(
  about: string[],
  what: string,
  found: Evenness,
  lowestMinToMean: number,
  where = '',
): Notice | null {
  const { minToMean, n } = found;
  if (n < 2 || minToMean === null || minToMean >= lowestMinToMean) return null;
  return lightNotice(
    'light-uneven',
    'warn',
    about,
    `${what} is lit unevenly${where === '' ? '' : ` ${where}`}: its darkest pot gets ${figure(found.min)} µmol m⁻² s⁻¹, ` +
      `${figure(minToMean, 2)} of the mean ${figure(found.mean)} over ${plural(n, 'pot')}. ` +
      `The plan asks for at least ${figure(lowestMinToMean, 2)}.`,
    'Space the lamps wider or hang them higher, brighten the sides, make the outer ring guard ' +
      'pots, or block along the light.',
  );
}
