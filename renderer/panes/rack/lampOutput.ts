import type { LampKind, LampOutput } from '../../../shared-types/rack';

/** Lux per PPFD of a white LED, with the range from warm to cool; the maker's figure is better. */
const WHITE_LED = { lumensPerUmolS: 70, lowest: 62, highest: 76 };
const USUAL_EFFICACY = 2.5;

/** Photon flux that an output stands for, µmol s⁻¹. */
export function photonFlux(output: LampOutput, powerW: number): number {
  switch (output.kind) {
    case 'photons':
      return output.fluxUmolS;
    case 'watts':
      return output.efficacyUmolJ * powerW;
    case 'lumens':
      return output.lumens / output.lumensPerUmolS;
  }
}

/** The same light stated in another way, as far as it can be; usual figures where it cannot. */
export function restated(kind: LampKind, as: LampOutput['kind']): LampOutput {
  const flux = photonFlux(kind.output, kind.powerW);
  const round = (value: number) => Number(value.toPrecision(4));
  switch (as) {
    case 'photons':
      return { kind: 'photons', fluxUmolS: flux > 0 ? round(flux) : 1 };
    case 'watts':
      return {
        kind: 'watts',
        efficacyUmolJ:
          flux > 0 && kind.powerW > 0 ? Math.min(100, round(flux / kind.powerW)) : USUAL_EFFICACY,
      };
    case 'lumens':
      return {
        kind: 'lumens',
        lumens: flux > 0 ? round(flux * WHITE_LED.lumensPerUmolS) : 1,
        ...WHITE_LED,
      };
  }
}
