import type { LampKind, LampOutput } from '../../../shared-types/rack';
import { say, type UnitSystem } from '../../words';

/**
 * A lamp kind of another length that is built alike: photons, power and mass go with the length. A
 * photometric file stays as it is, for it gives the shape of the light alone.
 */
export function ofLength(
  kind: LampKind,
  lengthMm: number,
  lengths: UnitSystem = 'metric',
): Omit<LampKind, 'id'> {
  const share = lengthMm / kind.lengthMm;
  const { id: _, ...rest } = kind;
  return {
    ...rest,
    name: `${kind.name}, ${say('length', lengths, Math.round(lengthMm))}`.slice(0, 120),
    lengthMm,
    output: sharedOutput(kind.output, share),
    powerW: kind.powerW * share,
    massKg: kind.massKg * share,
  };
}

function sharedOutput(output: LampOutput, share: number): LampOutput {
  switch (output.kind) {
    case 'photons':
      return { ...output, fluxUmolS: output.fluxUmolS * share };
    case 'watts':
      return output;
    case 'lumens':
      return { ...output, lumens: output.lumens * share };
    default:
      return output satisfies never;
  }
}
