import { describe, expect, it } from 'vitest';
import { luxFactors, luxSpectra } from '../../shared-types/luxSpectra';
import { luxPerPpfdOf } from '../../renderer/engine/light';
import { readCsv } from './figures';

// Spectra that the CIE has published, 380 to 780 nm by 5: CIE 15:2004, tables T.1, T.6.1 and T.7, and
// CIE 015:2018, table 12 (LED-B1 to B5).
const table = readCsv('data/cie_illuminants.csv');
const column = (name: string) => (table.columns[name] ?? []).map(Number);
const spectrum = (name: string) => {
  const power = column(name);
  return column('nm').map((nm, i) => ({ nm, power: power[i] ?? NaN }));
};

describe('lux per PPFD from a spectrum', () => {
  // Thimijan & Heins 1983, HortScience 18:818–822, and a maker of quantum sensors (trade-facts 2).
  it.each([
    ['D65', 54, 'the sun'],
    ['FL2', 74, 'cool white fluorescent light'],
    ['HP1', 82, 'high-pressure sodium light'],
  ])('of CIE %s is near the %i published for %s', (name, published) => {
    expect(Math.abs(luxPerPpfdOf(spectrum(name)) / published - 1)).toBeLessThan(0.05);
  });

  it('CIE illuminant A, by its formula, is that of incandescent light within 1 %', () => {
    // CIE 15:2004: 1.435e7/2848 in the exponent, 560 nm taken as 100.
    const planck = (nm: number) => 1 / (nm ** 5 * (Math.exp(1.435e7 / (2848 * nm)) - 1));
    const a = Array.from({ length: 471 }, (_, i) => ({
      nm: 360 + i,
      power: planck(360 + i) * 1e14,
    }));
    expect(Math.abs(luxPerPpfdOf(a) / 50 - 1)).toBeLessThan(0.01);
  });

  it('light of 555 nm has 147.2 lm to the µmol, by the definitions of candela and mole', () => {
    // 683 lm/W × 0.2155433615 J/µmol (trade-facts 2).
    const line = Array.from({ length: 401 }, (_, i) => ({
      nm: 380 + i,
      power: 380 + i === 555 ? 1 : 0,
    }));
    expect(luxPerPpfdOf(line)).toBeCloseTo(683 * 0.2155433615, 6);
  });

  it('steps of 1 nm and of 5 nm agree', () => {
    const coarse = spectrum('LED-B3');
    const fine = coarse.flatMap((from, i) => {
      const to = coarse[i + 1];
      if (!to) return [from];
      return [0, 1, 2, 3, 4].map((k) => ({
        nm: from.nm + k,
        power: from.power + (k / 5) * (to.power - from.power),
      }));
    });
    expect(luxPerPpfdOf(fine)).toBeCloseTo(luxPerPpfdOf(coarse), 9);
  });

  it.each(['LED-B1', 'LED-B2', 'LED-B3', 'LED-B4', 'LED-B5'])(
    'CIE %s is white by the list',
    (name) => {
      const factor = luxPerPpfdOf(spectrum(name));
      expect(factor).toBeGreaterThan(luxFactors.white.lowest);
      expect(factor).toBeLessThan(luxFactors.white.highest);
    },
  );
});

describe('the list of spectra', () => {
  it('holds every published factor within its range', () => {
    const published = {
      sun: [54, 52],
      fluorescent: [74],
      sodium: [82, 77],
      'metal-halide': [71, 65, 59],
      incandescent: [50],
      // 1000 lux of white LED is about 15 µmol m⁻² s⁻¹ (Sharakshane et al. 2018; cited, not re-read).
      white: [1000 / 15],
    };
    for (const [spectrumName, factors] of Object.entries(published)) {
      const known = luxFactors[spectrumName as keyof typeof published];
      for (const factor of factors) {
        expect(known?.lowest, spectrumName).toBeLessThanOrEqual(factor);
        expect(known?.highest, spectrumName).toBeGreaterThanOrEqual(factor);
      }
    }
  });

  it('has its usual factor between its ends', () => {
    for (const name of luxSpectra) {
      const known = luxFactors[name];
      if (!known) continue;
      expect(known.lowest).toBeLessThan(known.factor);
      expect(known.factor).toBeLessThan(known.highest);
    }
  });
});

describe('a spectrum that cannot be used is refused, the narrow miss is not', () => {
  const flat = (from: number, to: number, step: number) =>
    Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => ({
      nm: from + i * step,
      power: 1,
    }));
  it.each([
    ['that starts at 401 nm', flat(401, 781, 1), 'spans 401 to 781 nm'],
    ['that ends at 699 nm', flat(399, 699, 1), 'spans 399 to 699 nm'],
    ['with steps of 11 nm', flat(389, 785, 11), 'nothing between'],
    ['without a point', [], 'no wavelength'],
    ['negative beyond noise', [...flat(400, 700, 1), { nm: 701, power: -0.03 }], '-0.03 at 701'],
    ['with a wavelength twice', [...flat(400, 700, 1), { nm: 500, power: 1 }], '500 nm twice'],
    ['dark', flat(400, 700, 1).map(({ nm }) => ({ nm, power: 0 })), 'no light'],
  ])('%s', (_, points, words) => {
    expect(() => luxPerPpfdOf(points)).toThrow(words);
  });
  it.each([
    ['400 to 700 nm', flat(400, 700, 1)],
    ['steps of 10 nm', flat(390, 710, 10)],
    ['noise below 0', [...flat(400, 700, 1), { nm: 701, power: -0.01 }]],
    ['in any order', flat(400, 700, 1).reverse()],
  ])('%s', (_, points) => {
    expect(luxPerPpfdOf(points)).toBeGreaterThan(0);
  });
});
