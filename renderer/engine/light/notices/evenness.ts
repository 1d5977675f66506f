import type { LightPlan } from '../../../../shared-types/light';
import type { Layout } from '../../../../shared-types/layout';
import type { Notice } from '../../../../shared-types/notice';
import type { Rack, Shelf, Tray } from '../../../../shared-types/rack';
import { potsOfTray, trayCode } from '../../geometry';
import { evenness, type Evenness } from '../evenness';
import type { PotLight } from '../potLight';
import { lightNotice } from './lightNotice';
import { figure, plural, say, type UnitSystem } from '../../../words';

/** A tray with the pots that count in it: those that are no guard pots, or all of them. */
function placeOfTray(shelf: Shelf, tray: Tray, light: PotLight, lengths: UnitSystem) {
  const summary = light.trays.get(tray.id);
  const judged = summary?.withoutGuards ?? summary?.evenness;
  if (!summary || !judged) return null;
  return {
    about: [`tray:${tray.id}`],
    what: `Tray ${trayCode(shelf.number, tray.letter)}`,
    judged,
    where: `at ${say('length', lengths, summary.heightMm)} (${summary.source})`,
  };
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
  const place = placeOfTray(shelf, tray, light, lengths);
  if (!place || !target) return [];
  const { about, what, judged, where } = place;
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

/** Blocks of the drawn layout with the light of their pots; none where all pots are one block. */
function blocksOf(layout: Layout | null, light: PotLight): Block[] {
  const byName = new Map<string, string[]>();
  for (const { block, potId } of layout?.assignments ?? []) {
    if (!light.pots.has(potId)) continue;
    byName.set(block, [...(byName.get(block) ?? []), potId]);
  }
  if (byName.size < 2) return [];
  return [...byName].map(([name, potIds]) => ({
    name,
    potIds,
    found: evenness(potIds.map((id) => light.pots.get(id)?.ppfdUmol ?? 0)),
  }));
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
  const blocks = blocksOf(layout, light);
  const blockOf = new Map(blocks.flatMap((block) => block.potIds.map((id) => [id, block])));
  const trayPots = new Map(
    rack.shelves.flatMap((shelf) =>
      shelf.trays.map((tray) => {
        const pots = potsOfTray(shelf, tray).filter((pot) => !pot.guard);
        return [tray.id, pots.map((pot) => pot.id)] as const;
      }),
    ),
  );
  const even = (block: Block | undefined) =>
    block !== undefined && (block.found.minToMean ?? 1) >= limit;
  const trays = lit.flatMap((shelf) =>
    shelf.trays.flatMap((tray) => {
      const place = placeOfTray(shelf, tray, light, lengths);
      if (!place) return [];
      const found = unevenNotice(place.about, place.what, place.judged, limit, place.where);
      if (!found) return [];
      const pots = trayPots.get(tray.id) ?? [];
      if (pots.length > 0 && pots.every((id) => even(blockOf.get(id)))) {
        const text = `${found.text} Its blocks are even, so that the comparison does not suffer.`;
        return [{ ...found, severity: 'note' as const, text }];
      }
      return [found];
    }),
  );
  const whole = new Set([...trayPots.values()].map((ids) => [...ids].sort().join(' ')));
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
      `${figure(minToMean, 2)} of the mean ${figure(found.mean)} over ${plural(n, 'pot')}; ` +
      `the plan asks for at least ${figure(lowestMinToMean, 2)}.`,
    'Space the lamps wider or hang them higher, brighten the sides, make the outer ring guard ' +
      'pots, or block along the light.',
  );
}
