import type { PixelSize } from '../plane/viewport';

export interface Bitmap {
  canvas: HTMLCanvasElement;
  ctx: CanvasRenderingContext2D;
}

/** A clear bitmap that is painted on in CSS pixels; null where there is no canvas to be had. */
export function blankBitmap({ width, height }: PixelSize, pixelRatio: number): Bitmap | null {
  const canvas = document.createElement('canvas');
  canvas.width = Math.ceil(width * pixelRatio);
  canvas.height = Math.ceil(height * pixelRatio);
  const ctx = canvas.getContext('2d');
  if (!ctx) return null;
  ctx.scale(pixelRatio, pixelRatio);
  return { canvas, ctx };
}
