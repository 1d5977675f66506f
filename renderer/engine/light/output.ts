import type { LampKind, LampOutput } from '../../../shared-types/rack';

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

function fluxOf(output: LampOutput, powerW: number, place: string): PhotonFlux {
  switch (output.kind) {
    case 'photons':
      return { umolS: output.fluxUmolS, lowest: output.fluxUmolS, highest: output.fluxUmolS };
    case 'watts': {
      const umolS = powerW * output.efficacyUmolJ;
      return { umolS, lowest: umolS, highest: umolS };
    }
    case 'lumens': {
      const { lumens, lumensPerUmolS, lowest, highest } = output;
      checkLumenRange(output, place);
      return {
        umolS: lumens / lumensPerUmolS,
        // More lumens to the µmol means fewer photons.
        lowest: lumens / highest,
        highest: lumens / lowest,
      };
    }
  }
}

/** Throws where the conversion factor lies outside its own range. */
export function checkLumenRange(
  output: Extract<LampOutput, { kind: 'lumens' }>,
  place: string,
): void {
  const { lumensPerUmolS, lowest, highest } = output;
  if (!(lowest > 0 && lowest <= lumensPerUmolS && lumensPerUmolS <= highest)) {
    throw new Error(
      `${place}: ${lumensPerUmolS} lm per µmol/s with a range of ${lowest} to ${highest}; ` +
        `the factor inside its own range is expected`,
    );
  }
}

/**
 * Photon flux of one lamp at a share of its full output (`dimming`, 0–1): as stated, or electrical
 * watts × efficacy (µmol J⁻¹), or lumens ÷ (lumens per µmol s⁻¹), where the range of the factor is
 * carried along. Throws on a dimming outside 0–1 and on a factor outside its own range.
 */
export function photonFlux(kind: LampKind, dimming = 1): PhotonFlux {
  const place = `lamp kind ${kind.name}`;
  if (!(dimming >= 0 && dimming <= 1)) {
    throw new Error(`${place}: dimming ${dimming}; a share from 0 to 1 is expected`);
  }
  const full = fluxOf(kind.output, kind.powerW, place);
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
