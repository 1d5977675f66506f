import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  BinaryBitmap,
  DataMatrixReader,
  DecodeHintType,
  HybridBinarizer,
  QRCodeReader,
  RGBLuminanceSource,
} from '@zxing/library';
import jsqr from 'jsqr';
import { htmlToPdf } from '../../electron/batch/pdf';
import { stream } from '../../renderer/engine/trial/stream';
import { defaultOptions, printed, type LabelPreset } from '../../renderer/print';
import { trialPots } from '../../renderer/print/shown';
import type { SymbolKind } from '../../shared-types/window/printing';
import { awkwardPlans } from '../print/support/awkwardPlans';

export type Code = Exclude<SymbolKind, 'none'>;
export const conditions = ['clean', 'blurred', 'turned', 'spotted'] as const;
export type Condition = (typeof conditions)[number];

/** What is done to the picture of a label. */
export const DAMAGE = {
  blurSigmaMm: 0.15,
  mostTurnDeg: 45,
  spots: { dark: 2, pale: 2, radiusMm: 0.4 },
  aroundMm: 4,
} as const;

/** Programs that others wrote; each reads what it can. */
export const decoders = ['zbarimg', 'dmtxread', 'jsqr', 'zxing'] as const;
export type Decoder = (typeof decoders)[number];
const READS: Record<Decoder, readonly Code[]> = {
  zbarimg: ['qr'],
  dmtxread: ['data-matrix'],
  jsqr: ['qr'],
  zxing: ['qr', 'data-matrix'],
};
export const decodersOf = (code: Code): Decoder[] =>
  decoders.filter((decoder) => READS[decoder].includes(code));

interface Picture {
  width: number;
  height: number;
  grey: Uint8ClampedArray;
}

/** A code on its sheet, mm, its quiet zone left out. */
interface Spot {
  x: number;
  y: number;
  side: number;
}

export interface Sheet {
  pdf: Uint8Array;
  codes: Spot[];
  texts: string[];
}

/** The first sheet of a preset as a PDF, with the places of its codes; null: they find no room on it. */
export async function sheetOf(preset: LabelPreset, symbol: Code): Promise<Sheet | null> {
  const plan = awkwardPlans()['shelves'];
  if (!plan) throw new Error('the plan of five shelves is missing');
  const usual = defaultOptions(preset.paper);
  const labels = { ...usual.labels, geometry: preset.geometry, symbol };
  const options = { ...usual, labels };
  const html = printed(plan, 'labels', options, 1)?.html ?? '';
  const codes = placesIn(html);
  if (codes.length === 0) return null;
  const pdf = await htmlToPdf(html);
  if (!pdf.ok) throw new Error(pdf.why);
  const texts = trialPots(plan, options).map((pot) => pot.code);
  return { pdf: pdf.bytes, codes, texts: texts.slice(0, codes.length) };
}

function placesIn(html: string): Spot[] {
  const number = '(-?[\\d.]+)';
  const at = new RegExp(
    `<g transform="translate\\(${number} ${number}\\)( rotate\\(90\\))?"><path transform="translate\\(${number} ${number}\\) scale\\(${number}\\)" d="([^"]*)"`,
    'g',
  );
  return [...html.matchAll(at)].map(([, gx, gy, turned, px, py, scale, d = '']) => {
    const [left, top, x, y, module] = [gx, gy, px, py, scale].map(Number) as number[];
    const side = Math.max(...[...d.matchAll(/[ML ]([\d.]+),/g)].map((m) => Number(m[1])));
    const wide = side * (module ?? 0);
    // A stake is read from its right: its own x runs down the page, its y to the left.
    return turned
      ? { x: (left ?? 0) - (y ?? 0) - wide, y: (top ?? 0) + (x ?? 0), side: wide }
      : { x: (left ?? 0) + (x ?? 0), y: (top ?? 0) + (y ?? 0), side: wide };
  });
}

/** The sheet as a printer, or a scanner, of so many dots an inch has it. */
export function rasterOf({ pdf }: Sheet, dpi: number): Picture {
  const folder = mkdtempSync(join(tmpdir(), 'evenrack-decode-'));
  try {
    const file = join(folder, 'sheet.pdf');
    writeFileSync(file, pdf);
    const words = ['-gray', '-r', String(dpi), '-f', '1', '-l', '1', file];
    const out = execFileSync('pdftoppm', words, { maxBuffer: 1 << 30 });
    const [head = '', w, h] =
      /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(out.toString('latin1', 0, 40)) ?? [];
    return {
      width: Number(w),
      height: Number(h),
      grey: new Uint8ClampedArray(out.subarray(head.length)),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A code with what stands around it on its label, as a camera sees it. */
export function pictureOf(
  sheet: Picture,
  { x, y, side }: Spot,
  dpi: number,
  condition: Condition,
  seed: string,
): Picture {
  const px = dpi / 25.4;
  const around = DAMAGE.aroundMm;
  const cut = cropped(sheet, {
    left: Math.round((x - around) * px),
    top: Math.round((y - around) * px),
    side: Math.round((side + 2 * around) * px),
  });
  const chance = stream(seed, condition);
  switch (condition) {
    case 'clean':
      return cut;
    case 'blurred':
      return blurred(cut, DAMAGE.blurSigmaMm * px);
    case 'turned':
      return turned(cut, ((2 * chance.fraction() - 1) * DAMAGE.mostTurnDeg * Math.PI) / 180);
    case 'spotted': {
      const grey = cut.grey.slice();
      const { dark, pale, radiusMm } = DAMAGE.spots;
      for (let i = 0; i < dark + pale; i++) {
        const [cx, cy] = [0, 1].map(() => (around + side * chance.fraction()) * px);
        disc({ ...cut, grey }, cx ?? 0, cy ?? 0, radiusMm * px, i < dark ? 20 : 255);
      }
      return { ...cut, grey };
    }
  }
}

function cropped(from: Picture, at: { left: number; top: number; side: number }): Picture {
  const grey = new Uint8ClampedArray(at.side * at.side).fill(255);
  for (let y = 0; y < at.side; y++) {
    for (let x = 0; x < at.side; x++) {
      const [fx, fy] = [at.left + x, at.top + y];
      if (fx < 0 || fy < 0 || fx >= from.width || fy >= from.height) continue;
      grey[y * at.side + x] = from.grey[fy * from.width + fx] ?? 255;
    }
  }
  return { width: at.side, height: at.side, grey };
}

/** Gaussian blur, its kernel cut at three standard deviations. */
function blurred({ width, height, grey }: Picture, sigma: number): Picture {
  const reach = Math.ceil(3 * sigma);
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigma ** 2)),
  );
  const sum = kernel.reduce((a, b) => a + b, 0);
  const along = (source: Float64Array, step: 'x' | 'y') => {
    const to = new Float64Array(source.length);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let value = 0;
        for (let k = -reach; k <= reach; k++) {
          const nx = step === 'x' ? Math.min(width - 1, Math.max(0, x + k)) : x;
          const ny = step === 'y' ? Math.min(height - 1, Math.max(0, y + k)) : y;
          value += ((kernel[k + reach] ?? 0) / sum) * (source[ny * width + nx] ?? 255);
        }
        to[y * width + x] = value;
      }
    }
    return to;
  };
  const out = along(along(Float64Array.from(grey), 'x'), 'y');
  return { width, height, grey: Uint8ClampedArray.from(out) };
}

/** Turned about its middle, with room for its corners, on white. */
function turned({ width, height, grey }: Picture, angle: number): Picture {
  const side = Math.ceil(Math.hypot(width, height));
  const out = new Uint8ClampedArray(side * side).fill(255);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const at = (x: number, y: number) =>
    x < 0 || y < 0 || x >= width || y >= height ? 255 : (grey[y * width + x] ?? 255);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const [dx, dy] = [x - side / 2, y - side / 2];
      const fx = cos * dx + sin * dy + width / 2;
      const fy = -sin * dx + cos * dy + height / 2;
      const [x0, y0] = [Math.floor(fx), Math.floor(fy)];
      const [u, v] = [fx - x0, fy - y0];
      out[y * side + x] =
        (1 - v) * ((1 - u) * at(x0, y0) + u * at(x0 + 1, y0)) +
        v * ((1 - u) * at(x0, y0 + 1) + u * at(x0 + 1, y0 + 1));
    }
  }
  return { width: side, height: side, grey: out };
}

function disc(on: Picture, cx: number, cy: number, radius: number, value: number): void {
  for (let y = Math.floor(cy - radius); y <= cy + radius; y++) {
    for (let x = Math.floor(cx - radius); x <= cx + radius; x++) {
      if (x < 0 || y < 0 || x >= on.width || y >= on.height) continue;
      if (Math.hypot(x - cx, y - cy) <= radius) on.grey[y * on.width + x] = value;
    }
  }
}

/** What a program reads in each picture; null: nothing. */
export function read(
  decoder: Decoder,
  code: Code,
  pictures: readonly Picture[],
): (string | null)[] {
  switch (decoder) {
    case 'zbarimg':
    case 'dmtxread':
      return inFiles(pictures, (file) =>
        decoder === 'zbarimg'
          ? spoken('zbarimg', ['-q', '--raw', '-Sdisable', '-Sqrcode.enable', file])
          : spoken('dmtxread', ['-N1', '-m1500', file]),
      );
    case 'jsqr':
      return pictures.map(({ width, height, grey }) => {
        const rgba = new Uint8ClampedArray(4 * grey.length);
        grey.forEach((value, i) => rgba.set([value, value, value, 255], 4 * i));
        const reader =
          typeof jsqr === 'function' ? jsqr : (jsqr as { default: typeof jsqr }).default;
        return reader(rgba, width, height)?.data ?? null;
      });
    case 'zxing':
      return pictures.map((picture) => readByZxing(code, picture));
  }
}

function readByZxing(code: Code, { width, height, grey }: Picture): string | null {
  const reader = code === 'qr' ? new QRCodeReader() : new DataMatrixReader();
  const hints = new Map<DecodeHintType, unknown>([[DecodeHintType.TRY_HARDER, true]]);
  try {
    const source = new RGBLuminanceSource(grey, width, height);
    return reader.decode(new BinaryBitmap(new HybridBinarizer(source)), hints).getText();
  } catch {
    return null;
  }
}

function inFiles(
  pictures: readonly Picture[],
  readFile: (file: string) => string | null,
): (string | null)[] {
  const folder = mkdtempSync(join(tmpdir(), 'evenrack-decode-'));
  try {
    return pictures.map(({ width, height, grey }, i) => {
      const file = join(folder, `${i}.pgm`);
      writeFileSync(
        file,
        Buffer.concat([Buffer.from(`P5 ${width} ${height} 255\n`), Buffer.from(grey)]),
      );
      return readFile(file);
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** What a program prints; null where it finds nothing, which it tells by its exit code. */
function spoken(program: string, words: readonly string[]): string | null {
  try {
    const said = execFileSync(program, words, {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return said.trim() === '' ? null : said.trim();
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') throw error;
    return null;
  }
}
