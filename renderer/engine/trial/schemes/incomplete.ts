import { shuffledNumbers, stream } from '../stream';
import type { Stream } from '../stream';
import { cyclicDesign, type BlockDesign } from './cyclic';
import { latticeDesign } from './lattice';
import { Refusal } from '../../../words';
import { num, whole } from '../../entry';
import { efficiencyBound, efficiencyFactor } from './efficiency';

/**
 * An incomplete block design in blocks of the stated sizes. `times` says of each treatment how often
 * it is wanted where another is wanted once; replications follow it to within one. Balanced (every
 * pair of treatments together equally often) where the numbers allow and a cyclic or searched design
 * is found, else a square lattice where they make one, else as nearly balanced as the search comes. No treatment stands twice in a block. The same
 * sizes give the same design: chance enters when it is randomised.
 */
export function incompleteDesign(times: readonly number[], sizes: readonly number[]): BlockDesign {
  const key = `${times.join('+')}:${sizes.join(',')}`;
  const design = known.get(key) ?? foundDesign(times, sizes);
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(key, design);
  return design.map((block) => [...block]);
}

// A search may take a second, and a randomisation test draws thousands of times from one design.
const known = new Map<string, BlockDesign>();

const MOST_KNOWN = 50;

function foundDesign(times: readonly number[], sizes: readonly number[]): BlockDesign {
  const treatments = times.length;
  for (const size of sizes) {
    if (size < 2 || size > treatments) {
      throw new Refusal(
        `incomplete blocks: a block of ${size} was found; 2 to ${treatments} (the treatments) is expected`,
      );
    }
  }
  const alike = times.every((one) => one === times[0]);
  const listed = alike
    ? (cyclicDesign(treatments, sizes) ?? latticeDesign(treatments, sizes))
    : null;
  if (listed) return listed;
  const what = alike ? String(treatments) : times.join('+');
  const random = stream('incomplete blocks', `${what}:${sizes.join(',')}`);
  let best: BlockDesign = [];
  let bestCost = Infinity;
  let bestEfficiency = -1;
  const ideal = idealCost(treatments, sizes);
  const bound = alike ? efficiencyBound(treatments, sizes) : 1;
  let steps = ATTEMPTS * stepsFor(treatments, sizes.length);
  for (let attempt = 0; attempt < MOST_ATTEMPTS && steps > 0; attempt++) {
    const design = startDesign(times, sizes, random);
    const found = improve(design, treatments, ideal, random);
    steps -= found.steps;
    if (found.cost > bestCost) continue;
    // Of designs whose pairs meet alike, the one that tells most of the treatments.
    const efficiency = efficiencyFactor(design, treatments);
    if (found.cost === bestCost && efficiency <= bestEfficiency) continue;
    bestCost = found.cost;
    bestEfficiency = efficiency;
    best = design;
    if (bestEfficiency > bound - 1e-9) break;
  }
  return best;
}

/** Treatments wanted alike are relabelled and blocks of one size exchanged, by lot. */
export function randomisedDesign(
  design: BlockDesign,
  times: readonly number[],
  random: Stream,
): BlockDesign {
  const labels = times.map(() => 0);
  for (const wanted of new Set(times)) {
    const own = times.flatMap((one, treatment) => (one === wanted ? [treatment] : []));
    const order = shuffledNumbers(own.length, random);
    own.forEach((treatment, i) => (labels[treatment] = num(own, num(order, i))));
  }
  const out: BlockDesign = design.map(() => []);
  const sizes = new Set(design.map((block) => block.length));
  for (const size of sizes) {
    const places = design.flatMap((block, i) => (block.length === size ? [i] : []));
    const order = shuffledNumbers(places.length, random);
    places.forEach((place, i) => {
      const from = design[num(places, num(order, i))] ?? [];
      out[place] = from.map((treatment) => num(labels, treatment));
    });
  }
  return out;
}

// Full searches, and the most starts within their steps.
const ATTEMPTS = 12;

const MOST_ATTEMPTS = 60;

const stepsFor = (treatments: number, blocks: number): number => 400 * treatments * blocks;

/** Sum of squared concurrences if every pair came together as equally often as can be. */
function idealCost(treatments: number, sizes: readonly number[]): number {
  const pairs = (treatments * (treatments - 1)) / 2;
  const together = sizes.reduce((sum, k) => sum + (k * (k - 1)) / 2, 0);
  const low = Math.floor(together / pairs);
  const high = together - low * pairs;
  return high * (low + 1) ** 2 + (pairs - high) * low ** 2;
}

function startDesign(
  times: readonly number[],
  sizes: readonly number[],
  random: Stream,
): BlockDesign {
  const left = quotasOf(times, sizes);
  return sizes.map((size) => {
    // The treatments that lack most first, ties by lot: so no place is left that none can fill
    // (Gale 1957, Pacific J. Math. 7:1073–1082).
    const order = shuffledNumbers(times.length, random).sort((a, b) => num(left, b) - num(left, a));
    const block = order.slice(0, size);
    for (const i of block) left[i] = num(left, i) - 1;
    return block;
  });
}

/**
 * Places that each treatment is to have: its share by its times, no more than there are blocks.
 * Places that are over go wherever the start puts them.
 */
function quotasOf(times: readonly number[], sizes: readonly number[]): number[] {
  const places = sizes.reduce((sum, size) => sum + size, 0);
  const quotas = times.map(() => 0);
  let free = times.map((_, i) => i);
  for (let settled = false; !settled;) {
    const left = places - quotas.reduce((sum, quota) => sum + quota, 0);
    const full = free.reduce((sum, i) => sum + (times[i] ?? 1), 0);
    const share = (i: number): number => Math.floor((left * (times[i] ?? 1)) / full);
    const capped = free.filter((i) => share(i) >= sizes.length);
    settled = capped.length === 0;
    for (const i of settled ? free : capped) quotas[i] = settled ? share(i) : sizes.length;
    free = free.filter((i) => !capped.includes(i));
    settled ||= free.length === 0;
  }
  return quotas;
}

/** Exchanges treatments between blocks, cooling down; the design ends at the best that was met. */
function improve(
  design: BlockDesign,
  t: number,
  ideal: number,
  random: Stream,
): { cost: number; steps: number } {
  const together = new Int32Array(t * t);
  const bump = (i: number, j: number, by: number): number => {
    const before = whole(together, i * t + j);
    together[i * t + j] = before + by;
    together[j * t + i] = before + by;
    return (before + by) ** 2 - before ** 2;
  };
  let cost = 0;
  for (const block of design) {
    block.forEach((i, a) => {
      for (const j of block.slice(a + 1)) cost += bump(i, j, 1);
    });
  }
  const replace = (block: number[], at: number, treatment: number): number => {
    const old = num(block, at);
    let change = 0;
    block.forEach((other, i) => {
      if (i === at) return;
      change += bump(old, other, -1) + bump(treatment, other, 1);
    });
    block[at] = treatment;
    return change;
  };
  const steps = stepsFor(t, design.length);
  let best = cost;
  let kept = design.map((block) => [...block]);
  let step = 0;
  for (; step < steps && best > ideal; step++) {
    const heat = 2 * (1 - step / steps) ** 2 + 1e-9;
    const x = design[random.integer(design.length)] ?? [];
    const y = design[random.integer(design.length)] ?? [];
    if (x === y) continue;
    const i = random.integer(x.length);
    const j = random.integer(y.length);
    const p = num(x, i);
    const q = num(y, j);
    if (p === q || x.includes(q) || y.includes(p)) continue;
    const change = replace(x, i, q) + replace(y, j, p);
    if (change <= 0 || random.fraction() < Math.exp(-change / heat)) {
      cost += change;
      if (cost < best) {
        best = cost;
        kept = design.map((block) => [...block]);
      }
    } else {
      replace(x, i, p);
      replace(y, j, q);
    }
  }
  design.splice(0, design.length, ...kept);
  // A start that is ideal at once still cost the making of it.
  return { cost: best, steps: step + t };
}
