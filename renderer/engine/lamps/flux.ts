import type { Lamp, LampKind } from '../../../shared-types/rack';
import { photometryOf } from './file';
import { kindOfLamp } from './find';
import { Refusal } from '../../words';

/** Photons of 400–700 nm per second (µmol s⁻¹), with the range that the stated figures allow. */
export interface PhotonFlux {
  umolS: number;
  lowest: number;
  highest: number;
}

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
        throw new Refusal(
          `lamp kind ${kind.name}: ${lumensPerUmolS} lm per µmol/s with a range of ${lowest} to ` +
            `${highest}; the factor inside its own range is expected`,
        );
      }
      const lumens = lumensOf(kind, output.lumens);
      return {
        umolS: lumens / lumensPerUmolS,
        // More lumens to the µmol means fewer photons.
        lowest: lumens / highest,
        highest: lumens / lowest,
      };
    }
    default:
      return output satisfies never;
  }
}

/** The lumens that count: candela of a photometric file are never rescaled to rated lumens. */
export function lumensOf(kind: LampKind, typed: number): number {
  return photometryOf(kind)?.integratedLumens ?? typed;
}

/**
 * Photon flux of one lamp at a share of its full output (`dimming`, 0–1): as stated, or electrical
 * watts × efficacy (µmol J⁻¹), or lumens ÷ (lumens per µmol s⁻¹), where the range of the factor is
 * carried along. With a photometric file and an output in lumens the file's integrated lumens
 * count; with an output in photons or watts the file gives the shape alone. Throws on a dimming
 * outside 0–1, on a factor outside its own range, on a file that cannot be used and where no finite
 * flux comes out.
 */
export function photonFlux(kind: LampKind, dimming = 1): PhotonFlux {
  if (!(dimming >= 0 && dimming <= 1)) {
    throw new Refusal(
      `lamp kind ${kind.name}: dimming ${dimming}; a share from 0 to 1 is expected`,
    );
  }
  const full = fluxOf(kind);
  if (!Number.isFinite(full.highest)) {
    throw new Refusal(`lamp kind ${kind.name}: ${full.highest} µmol/s; a finite flux is expected`);
  }
  return {
    umolS: full.umolS * dimming,
    lowest: full.lowest * dimming,
    highest: full.highest * dimming,
  };
}

/** Power of one lamp (W), taken as proportional to its dimming; drivers draw a little more. */
export function lampPowerW(kind: LampKind, dimming = 1): number {
  return kind.powerW * dimming;
}

type Kinds = { lampKinds: readonly LampKind[] };

/** Photons per second of several lamps together, as dimmed (µmol s⁻¹). Throws as `photonFlux`. */
export function fluxOfLamps(kinds: Kinds, lamps: readonly Lamp[]): number {
  return lamps.reduce(
    (sum, lamp) => sum + photonFlux(kindOfLamp(kinds, lamp), lamp.dimming).umolS,
    0,
  );
}

/** Power of several lamps together (W), as dimmed or, for a circuit that must bear it, undimmed. */
export function powerOfLamps(kinds: Kinds, lamps: readonly Lamp[], undimmed = false): number {
  return lamps.reduce(
    (sum, lamp) => sum + lampPowerW(kindOfLamp(kinds, lamp), undimmed ? 1 : lamp.dimming),
    0,
  );
}
