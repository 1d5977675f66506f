import { walkingOrder, type Pot } from '../../../engine/geometry';
import { figuresOf } from './column';
import type { SlipSource } from './slip';

/** The end of a tray whose values agree with the plants of the pots beside them. */
export interface ShiftedValues {
  trayId: string;
  /** From the first shifted pot on, in walking order. */
  pots: readonly Pot[];
  /** 1: each value seems to be of the pot before; −1: of the pot after. */
  by: 1 | -1;
  /** Correlation with the earlier measurement as recorded, and moved by one pot. */
  asRecorded: number;
  moved: number;
}

/** Fewer pairs than this agree by chance one way or the other. */
const FEWEST = 8;
/** How many times likelier the moved values must be, as a logarithm: e¹² is some 160,000. */
const LIKELIER = 12;

/**
 * In each tray, the tail in walking order for which a shift by one pot makes the values agree far
 * better with an earlier measurement of the same plants: a pot was skipped or entered twice. Judged by
 * the likelihood of a straight line through both, n/2 · ln(SS as recorded / SS moved).
 */
export function shiftedValues({ pots, values, before }: SlipSource): ShiftedValues[] {
  if (!before) return [];
  const [figures, began] = [figuresOf(pots, values), figuresOf(pots, before.values)];
  return [...traysWalked(pots)].flatMap(([trayId, { own, at: places }]) => {
    const later = places.map((i) => figures[i] ?? NaN);
    const earlier = places.map((i) => began[i] ?? NaN);
    const found = ([1, -1] as const)
      .flatMap((by) => bestTail(later, earlier, by))
      .sort((a, b) => b.likelier - a.likelier)[0];
    if (!found) return [];
    const { at, by, asRecorded, moved } = found;
    return [{ trayId, pots: own.slice(at), by, asRecorded, moved }];
  });
}

/** The pots of a tray in walking order, and where each stands in the list of all. */
interface Walk {
  own: readonly Pot[];
  at: readonly number[];
}

// The pots of a plan stay the same list while values are typed.
const walked = new WeakMap<readonly Pot[], ReadonlyMap<string, Walk>>();

function traysWalked(pots: readonly Pot[]): ReadonlyMap<string, Walk> {
  const known = walked.get(pots);
  if (known) return known;
  const places = new Map(pots.map((pot, i) => [pot, i]));
  const byTray = new Map<string, { own: Pot[]; at: number[] }>();
  for (const pot of walkingOrder(pots)) {
    const walk = byTray.get(pot.trayId) ?? { own: [], at: [] };
    walk.own.push(pot);
    walk.at.push(places.get(pot) ?? NaN);
    byTray.set(pot.trayId, walk);
  }
  walked.set(pots, byTray);
  return byTray;
}

interface Tail {
  at: number;
  by: 1 | -1;
  likelier: number;
  asRecorded: number;
  moved: number;
}

/** NaN: no value. */
type Column = readonly number[];

/** Sums over pairs, from the tray's end towards its front. */
class Pairs {
  private n = 0;
  private x = 0;
  private y = 0;
  private xx = 0;
  private yy = 0;
  private xy = 0;

  add(x: number, y: number): void {
    this.n += 1;
    this.x += x;
    this.y += y;
    this.xx += x * x;
    this.yy += y * y;
    this.xy += x * y;
  }

  get count(): number {
    return this.n;
  }

  get correlation(): number {
    const sxx = this.xx - (this.x * this.x) / this.n;
    const syy = this.yy - (this.y * this.y) / this.n;
    const sxy = this.xy - (this.x * this.y) / this.n;
    return sxx > 0 && syy > 0 ? sxy / Math.sqrt(sxx * syy) : 0;
  }
}

function bestTail(later: Column, earlier: Column, by: 1 | -1): Tail[] {
  const [straight, moved] = [new Pairs(), new Pairs()];
  let best: Tail | null = null;
  for (let at = later.length - 1; at >= 0; at--) {
    const y = later[at] ?? NaN;
    const [own, beside] = [earlier[at] ?? NaN, earlier[at - by] ?? NaN];
    // Only pots that have both take part, so that the two are judged by the same values.
    if (Number.isNaN(y + own + beside)) continue;
    straight.add(own, y);
    moved.add(beside, y);
    if (moved.count < FEWEST) continue;
    const [r0, r1] = [straight.correlation, moved.correlation];
    if (r1 <= Math.max(r0, 0)) continue;
    const likelier =
      (moved.count / 2) * Math.log((1 - Math.max(r0, 0) ** 2) / Math.max(1 - r1 * r1, 1e-9));
    if (likelier >= LIKELIER && likelier > (best?.likelier ?? 0)) {
      best = { at, by, likelier, asRecorded: r0, moved: r1 };
    }
  }
  return best ? [best] : [];
}
