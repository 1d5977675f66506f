import type { LampKind } from '../../../shared-types/rack';
import { photometryOf } from './measured';

/** Photons of 400–700 nm per second (µmol s⁻¹), with the range that the stated figures allow. */
export interface PhotonFlux {
  umolS: number;
  lowest: number;
  highest: number;
}

/** Above the efficacy of a lossless 700 nm lamp no source of photosynthetic photons can exist. */
export const EFFICACY_CEILING_UMOL_J = 5.85;
/** Above the best fixtures on sale: to be looked at twice. */
export const EFFICACY_DOUBTFUL_UMOL_J = 4;

function fluxOf(kind: LampKind): PhotonFlux {
  const { output } = kind;
  switch (output.kind) {
    case 'photons':
      return { umolS: output.fluxUmolS, lowest: output.fluxUmolS, highest: output.fluxUmolS };
    case 'watts': {
      const umolS = kind.powerW * output.efficacyUmolJ;
      return { umolS, lowest: umolS, highest: umolS };
    }
    case 'lumens': {
      const { lumensPerUmolS, lowest, highest } = output;
      if (!(lowest > 0 && lowest <= lumensPerUmolS && lumensPerUmolS <= highest)) {
        throw new Error(
          `lamp kind ${kind.name}: ${lumensPerUmolS} lm per µmol/s with a range of ${lowest} to ` +
            `${highest}; the factor inside its own range is expected`,
        );
      }
      // Candela of a photometric file are never rescaled to rated lumens.
      const measured = kind.emission.kind === 'file';
      const lumens = measured ? photometryOf(kind).integratedLumens : output.lumens;
      return {
        umolS: lumens / lumensPerUmolS,
        // More lumens to the µmol means fewer photons.
        lowest: lumens / highest,
        highest: lumens / lowest,
      };
    }
  }
}

/**
 * Photon flux of one lamp at a share of its full output (`dimming`, 0–1): as stated, or electrical
 * watts × efficacy (µmol J⁻¹), or lumens ÷ (lumens per µmol s⁻¹), where the range of the factor is
 * carried along. With a photometric file and an output in lumens the file's integrated lumens
 * count; with an output in photons or watts the file gives the shape alone. Throws on a dimming
 * outside 0–1, on a factor outside its own range and on a file that cannot be used.
 */
export function photonFlux(kind: LampKind, dimming = 1): PhotonFlux {
  if (!(dimming >= 0 && dimming <= 1)) {
    throw new Error(`lamp kind ${kind.name}: dimming ${dimming}; a share from 0 to 1 is expected`);
  }
  const full = fluxOf(kind);
  return {
    umolS: full.umolS * dimming,
    lowest: full.lowest * dimming,
    highest: full.highest * dimming,
  };
}

/** Photons per joule of electricity at full output (µmol J⁻¹); null where the power is not known. */
export function efficacyUmolJ(kind: LampKind): number | null {
  if (kind.output.kind === 'watts') return kind.output.efficacyUmolJ;
  return kind.powerW > 0 ? photonFlux(kind).umolS / kind.powerW : null;
}
