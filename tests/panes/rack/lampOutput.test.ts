import { describe, expect, it } from 'vitest';
import { photonFlux, restated } from '../../../renderer/panes/rack/lampOutput';
import { stripKind } from '../../canvas/support/plans';

describe('lamp output', () => {
  it('is flux, power times efficacy, or lumens over their factor', () => {
    expect(photonFlux({ kind: 'photons', fluxUmolS: 80 }, 36)).toBe(80);
    expect(photonFlux({ kind: 'watts', efficacyUmolJ: 2.5 }, 36)).toBe(90);
    // Thimijan & Heins 1983, HortScience 18:818–822: 74 lux per µmol m⁻² s⁻¹, cool-white tubes.
    const lumens = { kind: 'lumens', lumens: 7400, lumensPerUmolS: 74, lowest: 74, highest: 74 };
    expect(photonFlux({ ...lumens, kind: 'lumens' }, 36)).toBeCloseTo(100, 12);
  });

  it('keeps the light when it is stated in another way', () => {
    for (const as of ['photons', 'watts', 'lumens'] as const) {
      const output = restated(stripKind, as);
      // Stated to four digits.
      expect(photonFlux(output, stripKind.powerW) / 80).toBeCloseTo(1, 3);
    }
  });

  it('starts from a usual efficacy where no power is known', () => {
    expect(restated({ ...stripKind, powerW: 0 }, 'watts')).toEqual({
      kind: 'watts',
      efficacyUmolJ: 2.5,
    });
  });
});
