import type { Pot } from '../../geometry';
import { Refusal } from '../../../words';
import { type PpfdByPot, type Block, lightAt } from '../input';

const bandKey = (number: number): string => `light/${number}`;

export const bandName = (number: number): string => `Light band ${number}`;

/** The bands that the layout names, whatever the light is now. */
export function bandsAsDrawn(
  pots: readonly Pot[],
  blockByPot: ReadonlyMap<string, string>,
): Block[] {
  const bands = new Map<string, string[]>();
  for (const { id } of pots) {
    const name = blockByPot.get(id) ?? '';
    const band = bands.get(name) ?? [];
    band.push(id);
    bands.set(name, band);
  }
  const numberOf = (name: string): number => Number(/[0-9]+$/.exec(name)?.[0] ?? 0);
  return [...bands]
    .sort(([a], [b]) => numberOf(a) - numberOf(b))
    .map(([name, potIds]) => ({ key: bandKey(numberOf(name)), name, potIds }));
}

/** Bands of equal size along the light; band 1 is the dimmest. Ties go by the order of the pots. */
export function lightBands(pots: readonly Pot[], ppfdByPot: PpfdByPot, bands: number): Block[] {
  const ranked = pots.map((pot) => {
    const light = lightAt(ppfdByPot, pot);
    if (light === null) {
      throw new Refusal(
        `blocks by light: pot ${pot.code} has no PPFD; a light figure for every measured pot is expected`,
      );
    }
    return { pot, light };
  });
  ranked.sort((a, b) => a.light - b.light);
  const blocks: Block[] = [];
  ranked.forEach(({ pot }, rank) => {
    const number = Math.floor((rank * bands) / ranked.length) + 1;
    const last = blocks.at(-1);
    const key = bandKey(number);
    if (last?.key === key) last.potIds.push(pot.id);
    else blocks.push({ key, name: bandName(number), potIds: [pot.id] });
  });
  return blocks;
}
