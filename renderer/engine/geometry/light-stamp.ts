import type { LampKind, Shelf } from '../../../shared-types/rack';
import { hashOf } from './hash';

/**
 * What a shelf's light is made from, in short: its size, its surfaces, and its lamps as they hang.
 * Meter readings hold for this alone. The canopy, trays and names have no part in it.
 */
export function lightStamp(shelf: Shelf, lampKinds: readonly LampKind[]): string {
  const { widthMm, depthMm, clearanceMm, reflectances, lamps } = shelf;
  const { above, canopy, front, back, left, right } = reflectances;
  const hung = lamps.map((lamp) => {
    const kind = lampKinds.find(({ id }) => id === lamp.kindId);
    const { xMm, yMm, zMm, rotationDeg, tiltDeg, dimming } = lamp;
    return [xMm, yMm, zMm, rotationDeg, tiltDeg, dimming, kind ? lightOf(kind) : null];
  });
  const surfaces = [above, canopy, front, back, left, right];
  return hashOf(JSON.stringify([widthMm, depthMm, clearanceMm, surfaces, hung]));
}

function lightOf({ shape, lengthMm, widthMm, emission, output, powerW }: LampKind): unknown[] {
  // A file's text is long; its name and length tell it from another.
  const beam = emission.kind === 'file' ? [emission.fileName, emission.text.length] : emission;
  return [shape, lengthMm, widthMm, beam, output, powerW];
}
