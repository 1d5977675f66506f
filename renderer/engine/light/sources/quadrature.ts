import { Refusal } from '../../../words';
import { num } from '../../entry';

/** Nodes and weights of a rule on −1…1. */
export interface Rule {
  nodes: Float64Array;
  weights: Float64Array;
}

/**
 * Gauss–Legendre rule of n nodes: roots of the Legendre polynomial by Newton's method from
 * cos(π(i − ¼)/(n + ½)) (Abramowitz & Stegun 25.4.29, 22.16.6).
 */
export function gaussLegendreRule(n: number): Rule {
  if (!Number.isInteger(n) || n < 1) {
    throw new Refusal(`Gauss–Legendre rule of ${n} nodes: a whole number from 1 up is expected`);
  }
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < (n + 1) >> 1; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 100; step++) {
      let p = 1;
      let before = 0;
      for (let k = 1; k <= n; k++) {
        const next = ((2 * k - 1) * x * p - (k - 1) * before) / k;
        before = p;
        p = next;
      }
      slope = (n * (x * p - before)) / (x * x - 1);
      const move = p / slope;
      x -= move;
      if (Math.abs(move) < 1e-15) break;
    }
    const weight = 2 / ((1 - x * x) * slope * slope);
    nodes[i] = -x;
    nodes[n - 1 - i] = x;
    weights[i] = weight;
    weights[n - 1 - i] = weight;
  }
  return { nodes, weights };
}

const SIZES = [4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32, 40, 48, 64];
const RULES = SIZES.map(gaussLegendreRule);
const LARGEST = gaussLegendreRule(96);

/** The smallest prepared rule with at least `wanted` nodes, or the largest there is (96). */
export function ruleOfAtLeast(wanted: number): Rule {
  for (let i = 0; i < SIZES.length; i++) {
    const rule = RULES[i];
    if (rule && num(SIZES, i) >= wanted) return rule;
  }
  return LARGEST;
}
