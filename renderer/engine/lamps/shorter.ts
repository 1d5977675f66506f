import type { LampKind, LampOutput } from '../../../shared-types/rack';
import { fileOf } from './file';

/**
 * A lamp kind of another length that is built alike: photons, power and mass go with the length.
 * Null where its output cannot be shared out, because the candela of a file are those of the whole.
 */
export function ofLength(kind: LampKind, lengthMm: number): Omit<LampKind, 'id'> | null {
  const share = lengthMm / kind.lengthMm;
  const output = sharedOutput(kind, share);
  if (!output) return null;
  const { id: _, ...rest } = kind;
  return {
    ...rest,
    name: `${kind.name}, ${Math.round(lengthMm)} mm`.slice(0, 120),
    lengthMm,
    output,
    powerW: kind.powerW * share,
    massKg: kind.massKg * share,
  };
}

function sharedOutput({ output, emission }: LampKind, share: number): LampOutput | null {
  switch (output.kind) {
    case 'photons':
      return { ...output, fluxUmolS: output.fluxUmolS * share };
    case 'watts':
      return output;
    case 'lumens':
      return fileOf(emission) ? null : { ...output, lumens: output.lumens * share };
    default:
      return output satisfies never;
  }
}
