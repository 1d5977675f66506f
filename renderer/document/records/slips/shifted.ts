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
  const columns = { later: figuresOf(pots, values), earlier: figuresOf(pots, before.values) };
  return [...traysWalked(pots)].flatMap(([trayId, { own, at: places }]) => {
    const onward = bestTail(columns, places, 1);
    const back = bestTail(columns, places, -1);
    const found = (back?.likelier ?? 0) > (onward?.likelier ?? 0) ? back : onward;
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

/** The values of all pots, NaN where there is none. */
interface Columns {
  later: Float64Array;
  earlier: Float64Array;
}

/** Sums over pairs, from the tray's end towards its front. */
class Pairs {
  private x = 0;
  private y = 0;
  private xx = 0;
  private yy = 0;
  private xy = 0;

  add(x: number, y: number): void {
    this.x += x;
    this.y += y;
    this.xx += x * x;
    this.yy += y * y;
    this.xy += x * y;
  }

  /** Of the `n` pairs that were added. */
  correlation(n: number): number {
    const sxx = this.xx - (this.x * this.x) / n;
    const syy = this.yy - (this.y * this.y) / n;
    const sxy = this.xy - (this.x * this.y) / n;
    return sxx > 0 && syy > 0 ? sxy / Math.sqrt(sxx * syy) : 0;
  }
}

/** `places`: where the pots of a tray stand in the columns, in walking order. */
function bestTail({ later, earlier }: Columns, places: readonly number[], by: 1 | -1): Tail | null {
  const straight = new Pairs();
  const shifted = new Pairs();
  let best: Tail | null = null;
  let n = 0;
  for (let at = places.length - 1; at >= 0; at--) {
    const place = places[at] ?? NaN;
    const y = later[place] ?? NaN;
    const own = earlier[place] ?? NaN;
    const beside = earlier[places[at - by] ?? NaN] ?? NaN;
    // Only pots that have both take part, so that the two are judged by the same values.
    if (Number.isNaN(y + own + beside)) continue;
    straight.add(own, y);
    shifted.add(beside, y);
    n += 1;
    if (n < FEWEST) continue;
    const moved = shifted.correlation(n);
    if (moved <= 0) continue;
    const asRecorded = straight.correlation(n);
    if (moved <= asRecorded) continue;
    const unexplained = 1 - Math.max(asRecorded, 0) ** 2;
    const likelier = (n / 2) * Math.log(unexplained / Math.max(1 - moved * moved, 1e-9));
    if (likelier >= LIKELIER && likelier > (best?.likelier ?? 0)) {
      best = { at, by, likelier, asRecorded, moved };
    }
  }
  return best;
}
