import type { Lamp, LampKind, LampShape } from '../../../shared-types/rack';
import { turnedBounds, type Rect } from '../geometry';

/** A side of the lit face that a shape has. */
export type LitSide = 'length' | 'width';

/** The sides that a shape has; what a plan holds of the others has no say. */
export function litSides(shape: LampShape): readonly LitSide[] {
  switch (shape) {
    case 'strip':
      return ['length'];
    case 'panel':
      return ['length', 'width'];
    case 'spot':
      return [];
    default:
      return shape satisfies never;
  }
}

/** The box that a lamp's lit face fills, along and across it, mm: 0 for a side it does not have. */
export function litSize(kind: LampKind): { lengthMm: number; widthMm: number } {
  const sides = litSides(kind.shape);
  return {
    lengthMm: sides.includes('length') ? kind.lengthMm : 0,
    widthMm: sides.includes('width') ? kind.widthMm : 0,
  };
}

/**
 * The sides that count for how a face shines. A strip is a line to all that asks where a lamp hangs,
 * but near by its width tells in its light.
 */
export function faceSides(shape: LampShape): readonly LitSide[] {
  switch (shape) {
    case 'strip':
    case 'panel':
      return ['length', 'width'];
    case 'spot':
      return [];
    default:
      return shape satisfies never;
  }
}

/** How wide a lamp's face shines, mm. */
export const faceWidthMm = (kind: LampKind): number =>
  faceSides(kind.shape).includes('width') ? kind.widthMm : 0;

/** The upright box around a lamp as seen from above, mm. */
export function lampBounds(lamp: Lamp, kind: LampKind): Rect {
  const { lengthMm, widthMm } = litSize(kind);
  const tilt = Math.abs(Math.cos((lamp.tiltDeg * Math.PI) / 180));
  return turnedBounds(lamp, lengthMm, widthMm * tilt, lamp.rotationDeg);
}
