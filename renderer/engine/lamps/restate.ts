import { outputSchema, type LampKind, type LampOutput } from '../../../shared-types/rack';
import { photometryOf } from './file';
import { lampPowerW, lumensOf, photonFlux } from './flux';
import { roundedTo } from '../../words';

/** lm per µmol s⁻¹ of a white LED, from warm to cool; the maker's figure is better. */
const WHITE_LED = { lumensPerUmolS: 70, lowest: 62, highest: 76 };

/** The same light stated in another way, or a sentence why that way cannot state it. */
export type Restated = { ok: true; output: LampOutput } | { ok: false; reason: string };

/**
 * A lamp kind's output given in another way, its photon flux unchanged. Lumens of a photometric file
 * are what they are, so that there the factor is what follows from them; its range keeps the share
 * to either side that a white LED has. Throws where the flux itself cannot be computed.
 */
export function restatedOutput(kind: LampKind, as: LampOutput['kind']): Restated {
  if (kind.output.kind === as) return { ok: true, output: kind.output };
  const { umolS } = photonFlux(kind);
  const powerW = lampPowerW(kind);
  if (as === 'watts' && !(powerW > 0)) {
    return { ok: false, reason: 'its power is 0 W: enter the power that it draws first' };
  }
  const output = outputOf(kind, as, umolS, powerW);
  if (!outputSchema.safeParse(output).success) {
    return { ok: false, reason: `${roundedTo(umolS, 3)} µmol/s cannot be stated so` };
  }
  return { ok: true, output };
}

function outputOf(
  kind: LampKind,
  as: LampOutput['kind'],
  umolS: number,
  powerW: number,
): LampOutput {
  switch (as) {
    case 'photons':
      return { kind: as, fluxUmolS: umolS };
    case 'watts':
      return { kind: as, efficacyUmolJ: umolS / powerW };
    case 'lumens': {
      const lumens = lumensOf(kind, umolS * WHITE_LED.lumensPerUmolS);
      const factor = lumens / umolS;
      const share = factor / WHITE_LED.lumensPerUmolS;
      return {
        kind: as,
        lumens,
        lumensPerUmolS: factor,
        lowest: Math.min(factor, WHITE_LED.lowest * share),
        highest: Math.max(factor, WHITE_LED.highest * share),
      };
    }
    default:
      return as satisfies never;
  }
}

/**
 * The output of a lamp kind once its light leaves in another way, its flux unchanged where it was
 * known: lumens that a file gave stay when the file goes. A file that comes brings its own lumens.
 */
export function outputWith(kind: LampKind, emission: LampKind['emission']): LampOutput {
  const { output } = kind;
  if (output.kind !== 'lumens' || emission.kind === 'file') return output;
  return { ...output, lumens: photometryOf(kind)?.integratedLumens ?? output.lumens };
}
