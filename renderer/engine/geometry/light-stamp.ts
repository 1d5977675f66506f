import type { LampKind, Shelf } from '../../../shared-types/rack';
import { hashOf } from './hash';

/**
 * What a shelf's light is made from, in short: its size, its surfaces, and its lamps as they hang.
 * Meter readings hold for this alone. The canopy's height, trays, names and lamp groups have no part
 * in it.
 */
export function lightStamp(shelf: Shelf, lampKinds: readonly LampKind[]): string {
  const { widthMm, depthMm, clearanceMm, reflectances, lamps } = shelf;
  const { above, canopy, front, back, left, right } = reflectances;
  const hung = lamps.map((lamp) => {
    const kind = lampKinds.find(({ id }) => id === lamp.kindId);
    const { xMm, yMm, zMm, rotationDeg, tiltDeg, dimming } = lamp;
    return [xMm, yMm, zMm, rotationDeg, tiltDeg, dimming, kind ? lightOf(kind) : ''].join(' ');
  });
  const surfaces = [above, canopy, front, back, left, right];
  // The same lamps give the same light in whatever order they were hung.
  return hashOf(JSON.stringify([widthMm, depthMm, clearanceMm, surfaces, hung.sort()]));
}

// Lamp kinds never change in place, and a photometric file is long: each is read once.
const known = new WeakMap<LampKind, string>();

function lightOf(kind: LampKind): string {
  const before = known.get(kind);
  if (before !== undefined) return before;
  const { shape, lengthMm, widthMm, emission, output, powerW } = kind;
  const beam = emission.kind === 'file' ? emission.text : JSON.stringify(emission);
  const flux =
    output.kind === 'photons'
      ? output.fluxUmolS
      : output.kind === 'watts'
        ? output.efficacyUmolJ * powerW
        : output.lumens / output.lumensPerUmolS;
  // The same flux, said in another way, is the same but for its last digits.
  const found = hashOf([shape, lengthMm, widthMm, flux.toPrecision(9), beam].join(' '));
  known.set(kind, found);
  return found;
}
