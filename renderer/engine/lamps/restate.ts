import {
  outputSchema,
  type Emission,
  type LampKind,
  type LampOutput,
} from '../../../shared-types/rack';
import { luxFactors } from '../../../shared-types/luxSpectra';
import { photometryAnswer } from './file';
import { lampPowerW, photonFlux } from './flux';
import { figure } from '../../words';

/** The same light stated in another way, or a sentence why that way cannot state it. */
export type Restated = { ok: true; output: LampOutput } | { ok: false; reason: string };

/**
 * A lamp kind's output given in another way, its photon flux unchanged. A photometric file brings its
 * own lumens, so that there the factor is what follows from them; its range keeps the share to
 * either side that a white LED has. Throws where the flux itself cannot be computed.
 */
export function restatedOutput(kind: LampKind, as: LampOutput['kind']): Restated {
  if (kind.output.kind === as) return { ok: true, output: kind.output };
  const { umolS } = photonFlux(kind);
  const output = outputOf(kind, as, umolS);
  if (!output) {
    return { ok: false, reason: 'its power is 0 W: enter the power that it draws first' };
  }
  if (!outputSchema.safeParse(output).success) {
    return { ok: false, reason: `${figure(umolS)} µmol/s cannot be stated so` };
  }
  return { ok: true, output };
}

/** Null where the lamp draws nothing that its photons could be stated by. */
function outputOf(kind: LampKind, as: LampOutput['kind'], umolS: number): LampOutput | null {
  switch (as) {
    case 'photons':
      return { kind: as, fluxUmolS: umolS };
    case 'watts': {
      const powerW = lampPowerW(kind);
      return powerW > 0 ? { kind: as, efficacyUmolJ: umolS / powerW } : null;
    }
    case 'lumens': {
      // lm per µmol s⁻¹ are lux per µmol m⁻² s⁻¹; the maker's figure is better.
      const { white } = luxFactors;
      const lumens = fileLumens(kind.emission) ?? umolS * white.factor;
      const factor = lumens / umolS;
      const share = factor / white.factor;
      return {
        kind: as,
        lumens,
        lumensPerUmolS: factor,
        lowest: Math.min(factor, white.lowest * share),
        highest: Math.max(factor, white.highest * share),
      };
    }
    default:
      return as satisfies never;
  }
}

/** Lumens that the candela of an emission's file add up to; null where no file tells. */
function fileLumens(emission: Emission): number | null {
  const answer = photometryAnswer({ emission });
  return answer?.ok ? answer.photometry.integratedLumens : null;
}

/**
 * The output of a lamp kind once its light leaves in another way: a file that comes brings its own
 * lumens, and they stay when it goes. Everything else stays as it is stated.
 */
export function outputWith({ output }: LampKind, emission: Emission): LampOutput {
  switch (output.kind) {
    case 'photons':
    case 'watts':
      return output;
    case 'lumens':
      return { ...output, lumens: fileLumens(emission) ?? output.lumens };
    default:
      return output satisfies never;
  }
}
