import { datamatrix, qrcode } from 'bwip-js/generic';
import type { SymbolKind } from '../../../shared-types/window/printing';
import { html, type Html } from '../html';
import { mm } from '../text';
import { rounded } from '../../words';

/** A code to scan, as outlines on a field of modules; y runs down. */
export interface Symbol {
  /** Modules on a side, without the quiet zone. */
  modules: number;
  /** Modules left blank on every side: QR 4 (ISO/IEC 18004), Data Matrix 1 (ISO/IEC 16022). */
  quiet: number;
  /** SVG path in modules, filled by the even-odd rule. */
  path: string;
}

// The library paints in pixels; at its smallest scale a module is this many.
const PIXELS = 2;

/** The code of a text. QR with error correction M, for wet benches. */
export function symbolOf(kind: Exclude<SymbolKind, 'none'>, text: string): Symbol {
  const outlines: string[] = [];
  let side = 0;
  // Told what to paint, it needs no canvas; only filled outlines come from these two kinds.
  const painter = {
    scale: (x: number, y: number): [number, number] => [x, y],
    measure: () => ({ width: 0, ascent: 0, descent: 0 }),
    init: (width: number) => void (side = width / PIXELS),
    polygon: (points: [number, number][]) => {
      const [first, ...rest] = points.map(([x, y]) => `${mm(x / PIXELS)},${mm(y / PIXELS)}`);
      outlines.push(`M${first ?? ''}L${rest.join(' ')}Z`);
    },
    line: unexpected,
    hexagon: unexpected,
    ellipse: unexpected,
    text: unexpected,
    fill: () => undefined,
    clip: () => undefined,
    unclip: () => undefined,
    end: () => undefined,
  };
  if (kind === 'qr') qrcode({ bcid: 'qrcode', text, eclevel: 'M', scale: 1 } as Encoding, painter);
  else datamatrix({ bcid: 'datamatrix', text, scale: 1 }, painter);
  return { modules: side, quiet: kind === 'qr' ? 4 : 1, path: outlines.join('') };
}

type Encoding = Parameters<typeof qrcode>[0];

function unexpected(): never {
  throw new TypeError('codes to scan: an outline was expected');
}

/** Dots of a printer of 300 dots an inch; modules are whole numbers of them. */
const DOT_MM = 25.4 / 300;
const FEWEST_DOTS = 5;
const MOST_DOTS = 8;

/** Side of a module that fits a square, mm: whole printer dots, at least 0.4 mm; null: none fits. */
export function moduleMm(symbol: Symbol, sideMm: number): number | null {
  const across = symbol.modules + 2 * symbol.quiet;
  const dots = Math.min(MOST_DOTS, Math.floor(sideMm / across / DOT_MM + 1e-9));
  return dots >= FEWEST_DOTS ? dots * DOT_MM : null;
}

/** The code with its quiet zone; `at` is the outer corner of that, mm. */
export function symbolSvg(symbol: Symbol, module: number, at: { x: number; y: number }): Html {
  const corner = symbol.quiet * module;
  return html`<path transform="translate(${mm(at.x + corner)} ${mm(at.y + corner)}) scale(${rounded(module, 6)})" d="${symbol.path}" fill="#000" fill-rule="evenodd" shape-rendering="crispEdges"/>`;
}
