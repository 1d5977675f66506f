import type { PrinterFit } from '../../shared-types/window/printing';
import { paperMm, SAFE_MM, type Paper } from './paper';
import { rounded } from '../words';

/** A printer that prints as it is told. */
export const EXACT_PRINTER: PrinterFit = { scaleX: 1, scaleY: 1, shiftXMm: 0, shiftYMm: 0 };

const isExact = ({ scaleX, scaleY }: PrinterFit): boolean => scaleX === 1 && scaleY === 1;

/** Style that draws all of a page so much larger that the printer brings it to its true size. */
export function fitCss(fit: PrinterFit): string {
  if (isExact(fit)) return '';
  const [x, y] = [1 / fit.scaleX, 1 / fit.scaleY].map((by) => rounded(by, 6));
  return `  .fitted { position: absolute; inset: 0; transform: scale(${x}, ${y}); transform-origin: 50% 50%; padding: inherit; }\n`;
}

/**
 * Width of the strip along the edges of the paper, mm, that a printer which prints smaller leaves
 * blank whatever is sent to it; 0: none beyond what is kept blank anyway.
 */
export function lostStripMm(paper: Paper, { scaleX, scaleY }: PrinterFit): number {
  const { width, height } = paperMm[paper];
  const strip = Math.max(((1 - scaleX) * width) / 2, ((1 - scaleY) * height) / 2);
  return strip > SAFE_MM ? strip : 0;
}
