import type { Lamp, LampKind } from '../../../shared-types/rack';
import { photometryOf } from './file';
import { kindOfLamp } from './find';
import { keptShare } from './wear';
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
      const { lumens } = output;
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

/**
 * Photon flux of one lamp at a share of its full output (`dimming`, 0–1): as stated, or electrical
 * watts × efficacy (µmol J⁻¹), or lumens ÷ (lumens per µmol s⁻¹), where the range of the factor is
 * carried along. A photometric file gives the shape alone: its candela are scaled to what is stated.
 * Throws on a dimming outside 0–1, on a factor outside its own range and where no finite flux comes
 * out.
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

/**
 * Photon flux of a lamp as it hangs: dimmed, times what its burnt hours have left of it and the
 * multiplier of its photometric file's tilt table where there is one. Throws as `photonFlux`, and on
 * a file that cannot be used.
 */
export function lampFlux(
  kind: LampKind,
  lamp: Pick<Lamp, 'dimming' | 'tiltDeg' | 'burntHours'>,
): PhotonFlux {
  const { umolS, lowest, highest } = photonFlux(kind, lamp.dimming);
  const tipped = photometryOf(kind)?.tilt?.shareAt(lamp.tiltDeg) ?? 1;
  const share = tipped * keptShare(kind, lamp.burntHours ?? 0);
  return { umolS: umolS * share, lowest: lowest * share, highest: highest * share };
}

/** Power of one lamp (W), taken as proportional to its dimming; drivers draw a little more. */
export function lampPowerW(kind: LampKind, dimming = 1): number {
  return kind.powerW * dimming;
}

type Kinds = { lampKinds: readonly LampKind[] };

/** Photons per second of several lamps together, as they hang (µmol s⁻¹). Throws as `lampFlux`. */
export function fluxOfLamps(kinds: Kinds, lamps: readonly Lamp[]): number {
  return lamps.reduce((sum, lamp) => sum + lampFlux(kindOfLamp(kinds, lamp), lamp).umolS, 0);
}

/** Power of several lamps together (W), as dimmed or, for a circuit that must bear it, undimmed. */
export function powerOfLamps(kinds: Kinds, lamps: readonly Lamp[], undimmed = false): number {
  return lamps.reduce(
    (sum, lamp) => sum + lampPowerW(kindOfLamp(kinds, lamp), undimmed ? 1 : lamp.dimming),
    0,
  );
}
