import { whole } from '../../entry';
import type { Tier } from '../site/site';
import { shuffle, shuffledNumbers } from '../stream';
import type { Stream } from '../stream';

/**
 * Which treatments every group of a tier holds, before they are shuffled over its units. A group
 * gets each treatment equally often; where its size is no multiple, the treatments left over are
 * dealt from shuffled packs that run on from group to group, so that over all groups no treatment
 * is ahead of another by more than one, and no group gets a treatment twice from one remainder.
 * By symmetry every treatment has the same chance of every left-over place. A treatment that is
 * wanted more often than others has so many cards in the full set.
 */
export function evenPortions(tier: Tier, random: Stream): Int32Array[] {
  const { fullSet } = tier;
  const full = fullSet.length;
  const deal = dealer(full, random);
  return tier.groups.map((group) => {
    const size = group.units.length;
    const portion = new Int32Array(size);
    const sets = size - (size % full);
    for (let from = 0; from < sets; from += full) portion.set(fullSet, from);
    deal(size - sets).forEach((card, i) => (portion[sets + i] = whole(fullSet, card)));
    return portion;
  });
}

/** Deals hands of distinct cards 0 … t − 1 from packs that run on from hand to hand. */
function dealer(t: number, random: Stream): (count: number) => number[] {
  let fullSet: number[] = [];
  return (count) => {
    const hand = fullSet.splice(0, count);
    if (hand.length === count) return hand;
    const held = new Set(hand);
    const fresh = shuffledNumbers(t, random);
    // The rest of the hand comes from a new full set without the cards already held.
    const rest = fresh.filter((card) => !held.has(card)).slice(0, count - hand.length);
    const taken = new Set(rest);
    fullSet = shuffle(
      fresh.filter((card) => !taken.has(card)),
      random,
    );
    return [...hand, ...rest];
  };
}
