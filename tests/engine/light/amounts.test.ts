import { describe, expect, it } from 'vitest';
import { dli, ppfdForDli } from '../../../renderer/engine/light/dli';
import { evenness } from '../../../renderer/engine/light/evenness';
import { efficacyUmolJ, photonFlux } from '../../../renderer/engine/lamps';
import { gaussLegendreRule } from '../../../renderer/engine/light/sources/quadrature';
import { kind } from './racks';

// Expected figures: tests/reference/trade-facts.md, section 2, unless a line says otherwise.

describe('daily light integral', () => {
  it.each([
    [100, 12, 4.32],
    [150, 14, 7.56],
    [200, 16, 11.52],
    [250, 16, 14.4],
  ])('%d for %d h', (ppfd, hours, expected) => {
    expect(dli(ppfd, hours)).toBeCloseTo(expected, 10);
  });

  it('and back', () => {
    expect(ppfdForDli(12, 16)).toBeCloseTo(208.3333333, 7);
    expect(ppfdForDli(10, 14)).toBeCloseTo(198.4126984, 7);
  });

  it('refuses impossible hours and light', () => {
    expect(() => dli(100, 25)).toThrow('photoperiod 25 h');
    expect(() => dli(-1, 12)).toThrow('PPFD -1');
    expect(() => ppfdForDli(10, 0)).toThrow('photoperiod 0 h');
  });
});

describe('photon flux', () => {
  it('as stated, by efficacy, and from lumens with its range', () => {
    expect(photonFlux(kind(), 0.5)).toEqual({ umolS: 20, lowest: 20, highest: 20 });
    const watts = kind({ output: { kind: 'watts', efficacyUmolJ: 2.5 }, powerW: 240 });
    expect(photonFlux(watts).umolS).toBe(600);
    // Row "lux per µmol" and its inverse: 10 000 lux of cool-white fluorescent are 135.1351351.
    const lumens = kind({
      output: { kind: 'lumens', lumens: 10_000, lumensPerUmolS: 74, lowest: 65, highest: 82 },
    });
    const flux = photonFlux(lumens);
    expect(flux.umolS).toBeCloseTo(135.1351351, 7);
    expect(flux.lowest).toBeCloseTo(121.9512195, 7);
    expect(flux.highest).toBeCloseTo(10_000 / 65, 10);
  });

  it('refuses a factor outside its range and an impossible dimming', () => {
    const lumens = kind({
      output: { kind: 'lumens', lumens: 1000, lumensPerUmolS: 60, lowest: 65, highest: 82 },
    });
    expect(() => photonFlux(lumens)).toThrow('the factor inside its own range');
    expect(() => photonFlux(kind(), 1.5)).toThrow('dimming 1.5');
  });

  it('efficacy from flux and power', () => {
    expect(efficacyUmolJ(kind())).toBe(2);
    expect(efficacyUmolJ(kind({ powerW: 0 }))).toBeNull();
  });
});

describe('evenness', () => {
  it('the worked set of twelve readings', () => {
    const e = evenness([180, 195, 210, 205, 190, 200, 220, 215, 175, 210, 198, 202]);
    expect(e.n).toBe(12);
    expect(e.mean).toBe(200);
    expect(e.minToMean).toBeCloseTo(0.875, 12);
    expect(e.minToMax).toBeCloseTo(0.7954545455, 9);
    expect(e.cvPercent).toBeCloseTo(6.755469165, 8);
    expect(e.christiansenPercent).toBeCloseTo(94.83333333, 7);
    // By hand: 175 alone lies more than 20 from 200 and the bounds 180 and 220 belong to the band.
    expect(e.shareWithin10Percent).toBeCloseTo(11 / 12, 12);
  });

  it('darkness has no ratios, one value no spread, and nothing is refused', () => {
    expect(evenness([0, 0])).toMatchObject({ mean: 0, minToMean: null, cvPercent: null });
    expect(evenness([5])).toMatchObject({ minToMean: 1, cvPercent: null });
    expect(() => evenness([])).toThrow('at least one value');
    expect(() => evenness([1, NaN])).toThrow('value 2 is NaN');
  });
});

describe('Gauss–Legendre', () => {
  it('rule of five nodes (Abramowitz & Stegun, table 25.4)', () => {
    const { nodes, weights } = gaussLegendreRule(5);
    [-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664].forEach(
      (x, i) => expect(nodes[i]).toBeCloseTo(x, 14),
    );
    [0.236926885056189, 0.478628670499366, 0.568888888888889].forEach((w, i) =>
      expect(weights[i]).toBeCloseTo(w, 14),
    );
  });

  it.each([4, 24, 96])('%d nodes integrate x to the highest even power exactly', (n) => {
    const { nodes, weights } = gaussLegendreRule(n);
    const power = 2 * n - 2;
    let sum = 0;
    nodes.forEach((x, i) => {
      sum += (weights[i] ?? 0) * Math.pow(x, power);
    });
    expect(sum).toBeCloseTo(2 / (power + 1), 12);
  });
});
