import type { LampKind } from '../../../shared-types/rack';
import { lampPowerW, photonFlux } from './flux';

/** Above the efficacy of a lossless 700 nm lamp no source of photosynthetic photons can exist. */
export const EFFICACY_CEILING_UMOL_J = 5.85;
/** Above the best fixtures on sale: to be looked at twice. */
export const EFFICACY_DOUBTFUL_UMOL_J = 4;

/** Photons per joule of electricity at full output (µmol J⁻¹); null where the power is not known. */
export function efficacyUmolJ(kind: LampKind): number | null {
  const { output } = kind;
  switch (output.kind) {
    case 'watts':
      return output.efficacyUmolJ;
    case 'photons':
    case 'lumens': {
      const powerW = lampPowerW(kind);
      return powerW > 0 ? photonFlux(kind).umolS / powerW : null;
    }
    default:
      return output satisfies never;
  }
}
