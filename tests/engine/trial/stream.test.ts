import { describe, expect, it } from 'vitest';
import { hashOf } from '../../../renderer/engine/geometry';
import { shuffledNumbers, stream } from '../../../renderer/engine/trial/stream';

// χ² upper 0.1 % points, Fisher & Yates' table: 9 df 27.877, 23 df 49.728.
const CHI_9 = 27.877;
const CHI_23 = 49.728;

const chiSquare = (counts: number[]): number => {
  const expected = counts.reduce((a, b) => a + b, 0) / counts.length;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
};

describe('stream', () => {
  it('repeats for the same seed and label and differs for another', () => {
    const take = (seed: string, label: string) => {
      const random = stream(seed, label);
      return Array.from({ length: 5 }, () => random.integer(1000));
    };
    expect(take('a', 'shelf:s1')).toEqual(take('a', 'shelf:s1'));
    expect(take('a', 'shelf:s1')).not.toEqual(take('a', 'shelf:s2'));
    expect(take('a', 'shelf:s1')).not.toEqual(take('b', 'shelf:s1'));
    expect(take('ab', 'c')).not.toEqual(take('a', 'bc'));
  });

  it('gives each whole number equally often', () => {
    const random = stream('even', 'integers');
    const counts = Array.from({ length: 10 }, () => 0);
    for (let i = 0; i < 100_000; i++) {
      const value = random.integer(10);
      counts[value] = (counts[value] ?? 0) + 1;
    }
    expect(chiSquare(counts)).toBeLessThan(CHI_9);
  });

  it('gives small and large numbers equally often below three quarters of the span', () => {
    // A remainder instead of a second draw would put two thirds of the values in the lower third.
    const random = stream('even', 'bias');
    const below = 3 * 2 ** 30;
    let low = 0;
    for (let i = 0; i < 30_000; i++) if (random.integer(below) < 2 ** 30) low++;
    expect(Math.abs(low - 10_000)).toBeLessThan(4 * Math.sqrt((30_000 * 2) / 9));
  });

  it('gives all 24 orders of four equally often, over seeds', () => {
    const orders = new Map<string, number>();
    for (let seed = 0; seed < 12_000; seed++) {
      const order = shuffledNumbers(4, stream(String(seed), 'orders')).join('');
      orders.set(order, (orders.get(order) ?? 0) + 1);
    }
    expect(orders.size).toBe(24);
    expect(chiSquare([...orders.values()])).toBeLessThan(CHI_23);
  });

  it('makes normal deviates of mean 0, variance 1, fourth moment 3', () => {
    const random = stream('normal', 'deviates');
    const n = 200_000;
    const sums = [0, 0, 0];
    for (let i = 0; i < n; i++) {
      const z = random.normal();
      sums[0] = (sums[0] ?? 0) + z;
      sums[1] = (sums[1] ?? 0) + z * z;
      sums[2] = (sums[2] ?? 0) + z ** 4;
    }
    // Four standard errors: variances of z, z², z⁴ are 1, 2, 96.
    expect(Math.abs((sums[0] ?? 0) / n)).toBeLessThan(4 * Math.sqrt(1 / n));
    expect(Math.abs((sums[1] ?? 0) / n - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    expect(Math.abs((sums[2] ?? 0) / n - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
  });

  it('names what is wrong with a count or a seed', () => {
    expect(() => stream('a', 'b').integer(0)).toThrow('below 0');
    expect(() => stream('', 'b')).toThrow('seed');
  });
});

describe('hash', () => {
  it('matches the published FNV-1a test vectors', () => {
    // draft-eastlake-fnv, appendix C (64-bit FNV-1a).
    expect(hashOf('')).toBe('cbf29ce484222325');
    expect(hashOf('a')).toBe('af63dc4c8601ec8c');
    expect(hashOf('foobar')).toBe('85944171f73967e8');
  });
});
