import { integratedLumens, intensityAt, type Candela, type Symmetry } from './distribution';
import { bounds, LEAST_ANGLE_STEP_DEG } from './bounds';
import {
  checkBounds,
  NumberStream,
  refuse,
  Refused,
  type Bounds,
  type PhotometryRefusal,
} from './numbers';
import { decimalCommas } from './decimalCommas';
import { tiltTableOf, type TiltTable } from './tilt';
import { real } from '../../entry';

/** A photometric file that was understood. */
export interface Photometry {
  /** Year of the edition; null where the first line names one that is not known here. */
  edition: (typeof EDITIONS)[number] | null;
  keywords: { name: string; text: string }[];
  /** Absolute photometry: the candela stand as they are, whatever a lamp is rated at. */
  absolute: boolean;
  lamps: number;
  /** Rated lumens of all bare lamps together; null for absolute photometry. */
  statedLumens: number | null;
  /** Flux of the candela by integration. */
  integratedLumens: number;
  inputWatts: number;
  symmetry: Symmetry;
  candela: Candela;
  /** Luminous opening in metres; 0 or less has a meaning of shape in the standard. */
  opening: { widthM: number; lengthM: number; heightM: number };
  /** Lamp tilt table; the candela belong to the tested position. */
  tilt: TiltTable | null;
  /** cd at a vertical (0 straight down) and horizontal angle in degrees. */
  intensity: (verticalDeg: number, horizontalDeg: number) => number;
}

export type PhotometryAnswer =
  | { ok: true; photometry: Photometry; warnings: string[] }
  | PhotometryRefusal;

const EDITIONS = [1986, 1991, 1995, 2002, 2019] as const;
const MOST_ANGLES = 721;
/** The finest table that is read, 721 by 721 numbers of twelve signs each, with room for keywords. */
const MOST_SIGNS = 10_000_000;
const METRES_PER_FOOT = 0.3048;

/**
 * Reads an IES LM-63 file (editions 1986 to 2019, photometric type C, TILT=NONE or INCLUDE). A file
 * that cannot be used is answered with the line, what was found there and what is expected.
 */
export function readPhotometry(text: string): PhotometryAnswer {
  if (text.length > MOST_SIGNS) {
    const found = `${Math.ceil(text.length / 1e6)} million signs`;
    const expected = `at most ${MOST_SIGNS / 1e6} million`;
    return { ok: false, line: 1, reason: 'too long', found, expected };
  }
  const answer = readOrRefused(text);
  return answer.ok ? answer : (decimalCommas(text, answer, readOrRefused) ?? answer);
}

function readOrRefused(text: string): PhotometryAnswer {
  try {
    return read(text);
  } catch (error) {
    if (error instanceof Refused) return error.refusal;
    throw error;
  }
}

function read(text: string): PhotometryAnswer {
  const rows = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const warnings: string[] = [];
  const first = rows[0]?.trim() ?? '';
  const named = /^IES/i.test(first);
  const edition = named ? editionOf(first) : 1986;
  if (edition === null) warnings.push(`line 1: edition “${first.slice(0, 40)}” is not known`);
  const tiltRow = rows.findIndex((row) => /^\s*TILT\s*=/i.test(row));
  if (tiltRow < 0) {
    refuse(rows.length, 'no TILT line', `${rows.length} lines without one`, 'TILT=NONE');
  }
  const head = rows.slice(named ? 1 : 0, tiltRow);
  const keywords = keywordsOf(head, edition === 1986 ? null : warnings, named ? 2 : 1);
  const numbers = new NumberStream(rows.slice(tiltRow + 1), tiltRow + 2);
  const tilt = tiltTableOf((rows[tiltRow] ?? '').split('=')[1]?.trim() ?? '', tiltRow + 1, numbers);
  const photometry = bodyOf(numbers, edition, keywords, tilt, warnings);
  numbers.expectEnd();
  return { ok: true, photometry, warnings };
}

function editionOf(first: string): Photometry['edition'] {
  const compact = first.toUpperCase().replace(/\s+/g, '');
  if (compact === 'IESNA91') return 1991;
  const year = /^IES(?:NA)?:LM-63-(\d{4})$/.exec(compact)?.[1];
  return EDITIONS.find((edition) => String(edition) === year) ?? null;
}

/** `[NAME] text` lines; `[MORE]` continues the one before. Anything else is free text. */
function keywordsOf(
  rows: readonly string[],
  warnings: string[] | null,
  firstLine: number,
): Photometry['keywords'] {
  const keywords: Photometry['keywords'] = [];
  rows.forEach((row, i) => {
    const match = /^\s*\[([^\]]*)\]\s?(.*)$/.exec(row);
    if (!match) {
      if (warnings && row.trim() !== '') {
        warnings.push(`line ${firstLine + i}: not a [KEYWORD] line; skipped`);
      }
      return;
    }
    const name = (match[1] ?? '').trim().toUpperCase();
    const text = (match[2] ?? '').trim();
    const before = keywords[keywords.length - 1];
    if (name === 'MORE' && before) before.text += `\n${text}`;
    else keywords.push({ name, text });
  });
  return keywords;
}

function bodyOf(
  numbers: NumberStream,
  edition: Photometry['edition'],
  keywords: Photometry['keywords'],
  tilt: Photometry['tilt'],
  warnings: string[],
): Photometry {
  const lamps = numbers.takeWhole('number of lamps', 1, 100_000);
  const perLamp = numbers.take('lumens per lamp');
  if (perLamp !== -1) {
    const { lowest, highest } = bounds.lumens;
    const say = `${lowest} to ${highest}, or -1 for absolute photometry`;
    checkBounds(numbers.line, 'lumens per lamp', perLamp, { lowest, highest, say });
  }
  const multiplier = numbers.takeWithin('candela multiplier', bounds.factor);
  const countV = numbers.takeWhole('count of vertical angles', 1, MOST_ANGLES);
  const countH = numbers.takeWhole('count of horizontal angles', 1, MOST_ANGLES);
  const type = numbers.takeWhole('photometric type', 1, 3);
  if (type !== 1) {
    const found = `type ${type === 2 ? 'B' : 'A'} (${type})`;
    refuse(numbers.line, 'photometric type not supported', found, 'type C (1)');
  }
  const metres = numbers.takeWhole('units (1 feet, 2 metres)', 1, 2) === 2 ? 1 : METRES_PER_FOOT;
  const opening = {
    widthM: numbers.takeWithin('width of the opening', bounds.openingM) * metres,
    lengthM: numbers.takeWithin('length of the opening', bounds.openingM) * metres,
    heightM: numbers.takeWithin('height of the opening', bounds.openingM) * metres,
  };
  const ballast = numbers.takeWithin('ballast factor', bounds.factor);
  const inUse = edition !== 2019 && edition !== null;
  // The newest edition reuses this place for a code, which is no factor.
  const ballastLamp = inUse
    ? numbers.takeWithin('ballast-lamp factor', bounds.factor)
    : numbers.takeWithin('file generation', bounds.generation);
  if (edition === null && ballastLamp !== 1) {
    warnings.push(
      `line ${numbers.line}: ${ballastLamp} in the place of the ballast-lamp factor ignored`,
    );
  }
  const inputWatts = numbers.takeWithin('input watts', bounds.watts);
  const vertical = risingAngles(numbers, countV, 'vertical angle', bounds.verticalAngle);
  checkVertical(vertical, numbers.line);
  const horizontal = risingAngles(numbers, countH, 'horizontal angle', bounds.horizontalAngle);
  const symmetry = symmetryOf(horizontal, numbers.line);
  const factor = multiplier * ballast * (inUse ? ballastLamp : 1);
  const values = new Float64Array(countV * countH);
  for (let i = 0; i < values.length; i++) {
    const value = numbers.take(`candela ${i + 1} of ${values.length}`);
    if (value < 0) refuse(numbers.line, 'negative candela', String(value), '0 or more');
    checkBounds(numbers.line, 'candela', value, bounds.candela);
    checkBounds(numbers.line, 'candela times its factors', value * factor, bounds.candela);
    values[i] = value * factor;
  }
  const candela: Candela = { vertical, horizontal, values, symmetry };
  const lumens = integratedLumens(candela);
  if (!(lumens > 0)) {
    refuse(numbers.line, 'the file has no light in it', 'candela of 0 throughout', 'some light');
  }
  checkBounds(numbers.line, 'lumens of all candela', lumens, bounds.integratedLumens);
  return {
    edition,
    keywords,
    absolute: perLamp === -1,
    lamps,
    statedLumens: perLamp === -1 ? null : lamps * perLamp,
    integratedLumens: lumens,
    inputWatts,
    symmetry,
    candela,
    opening,
    tilt,
    intensity: (verticalDeg, horizontalDeg) => intensityAt(candela, verticalDeg, horizontalDeg),
  };
}

function risingAngles(
  numbers: NumberStream,
  count: number,
  what: string,
  range: Bounds,
): Float64Array {
  const angles = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const angle = numbers.takeWithin(`${what} ${i + 1} of ${count}`, range);
    const before = i > 0 ? real(angles, i - 1) : -Infinity;
    if (!(angle > before)) {
      refuse(numbers.line, `${what}s do not rise`, `${angle} after ${before}`, `over ${before}`);
    }
    if (angle - before < LEAST_ANGLE_STEP_DEG * (1 - 1e-9)) {
      const expected = `steps of ${LEAST_ANGLE_STEP_DEG} or more`;
      refuse(numbers.line, `${what}s too close`, `${angle} after ${before}`, expected);
    }
    angles[i] = angle;
  }
  return angles;
}

function checkVertical(vertical: Float64Array, line: number): void {
  const from = vertical[0] ?? NaN;
  const to = vertical[vertical.length - 1] ?? NaN;
  const known = (from === 0 && (to === 90 || to === 180)) || (from === 90 && to === 180);
  if (known) return;
  const expected = '0 to 90, 0 to 180 or 90 to 180 degrees';
  refuse(line, 'impossible range of vertical angles', `${from} to ${to} degrees`, expected);
}

function symmetryOf(horizontal: Float64Array, line: number): Symmetry {
  const from = horizontal[0] ?? NaN;
  const to = horizontal[horizontal.length - 1] ?? NaN;
  if (from === 0 && horizontal.length === 1) return 'rotational';
  if (from === 0 && to === 90) return 'quadrants';
  if (from === 0 && to === 180) return 'mirror-0-180';
  if (from === 0 && to === 360) return 'none';
  if (from === 90 && to === 270) return 'mirror-90-270';
  const expected = '0 alone, 0 to 90, 0 to 180, 0 to 360 or 90 to 270 degrees';
  return refuse(
    line,
    'impossible range of horizontal angles',
    `${from} to ${to} degrees`,
    expected,
  );
}
