import {
  BinaryBitmap,
  DataMatrixReader,
  HybridBinarizer,
  RGBLuminanceSource,
} from '@zxing/library';
import jsqr from 'jsqr';

/** A square picture in grey, row by row. */
export interface GreySquare {
  side: number;
  grey: Uint8ClampedArray;
}

/** The text of a QR code; null: none is found. */
export function readQr({ side, grey }: GreySquare): string | null {
  const rgba = new Uint8ClampedArray(side * side * 4);
  for (const [i, value] of grey.entries()) {
    rgba.fill(value, 4 * i, 4 * i + 3);
    rgba[4 * i + 3] = 255;
  }
  const reader = typeof jsqr === 'function' ? jsqr : (jsqr as { default: typeof jsqr }).default;
  return reader(rgba, side, side)?.data ?? null;
}

/** The text of a Data Matrix. Throws where none is found. */
export function readMatrix({ side, grey }: GreySquare): string {
  const bitmap = new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(grey, side, side)));
  return new DataMatrixReader().decode(bitmap).getText();
}
