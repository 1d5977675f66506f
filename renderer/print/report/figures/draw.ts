import * as Plot from '@observablehq/plot';
import { axisNumber } from '../../../words';
import { html } from '../../html';
import { drawnText, textDocument } from './textDocument';

/** A figure, ready to be put into a page; ink is `currentColor` throughout. */
export interface Figure {
  name: string;
  /** What it shows, in words, for those who cannot see it. */
  label: string;
  svg: string;
}

export interface FigureSize {
  width: number;
  /** Points are links to `#pot:…`, to be found on the rack. */
  links?: boolean;
}

export const FONT = "'Atkinson Hyperlegible Next Variable', 'Liberation Sans', Arial, sans-serif";

/** Draws by the charting library into text. */
export function drawFigure(
  name: string,
  label: string,
  size: FigureSize,
  options: Plot.PlotOptions,
): Figure {
  const drawn = Plot.plot({
    style: { fontFamily: FONT, fontSize: '12px', background: 'none' },
    className: 'figure-drawing',
    width: size.width,
    ...options,
    document: textDocument as NonNullable<Plot.PlotOptions['document']>,
  });
  // The name becomes that of a file; a factor may be called N/K.
  const fileName = name.replace(/[\\/:*?"<>|]+/g, ' ');
  return {
    name: fileName,
    label,
    svg: labelled(drawnText(drawn), label, size.links ? 'group' : 'img'),
  };
}

/** The numbers at the marks of an axis, which the library writes in its own way. */
const AXIS_MARKS = /<g aria-label="[a-z]+-axis tick label".*?<\/g>/gs;

function labelled(svg: string, label: string, role: 'img' | 'group'): string {
  const { markup } = html`<svg role="${role}" aria-label="${label}" `;
  const marked = svg.replace(AXIS_MARKS, (marks) =>
    marks.replace(/>([^<>]+)<\/text>/g, (_, text: string) => `>${axisNumber(text)}</text>`),
  );
  // Names of marks are the library's own and say nothing to a listener.
  const unnamed = marked.replace(/<g aria-label="[^"]*"/g, '<g');
  return unnamed.replace('<svg ', () => markup);
}

/** The figure as a file of its own: black on white, whatever the window looks like. */
export function figureFile({ svg }: Figure): string {
  const plain = svg.replace(/var\(--surface, (#[0-9a-f]+)\)/g, '$1');
  return `<?xml version="1.0" encoding="UTF-8"?>\n${plain.replace(
    /<svg ([^>]*?)style="([^"]*)"/,
    '<svg xmlns="http://www.w3.org/2000/svg" $1style="$2; color: #000; background: #fff"',
  )}\n`;
}

/** Marks that stay apart without colour. */
export const SYMBOLS = [
  'circle',
  'square',
  'triangle',
  'diamond',
  'times',
  'star',
  'wye',
  'plus',
] as const;
export const DASHES = ['', '6 3', '2 3', '8 3 2 3', '4 2', '1 2', '10 4', '6 2 2 2 2 2'] as const;
