import { luxPerPpfdOf, type SpectrumPoint } from '../../engine/light';
import type { LuxFactor } from '../../../shared-types/luxSpectra';
import { guessDecimal, readNumber } from '../../tables';
import { reasonOf, rounded } from '../../words';

export type SpectrumAnswer = { ok: true; factor: LuxFactor } | { ok: false; problem: string };

/** Common practice, no source: a spectrometer and its dark noise, on the factor. */
const SPECTROMETER = 0.03;

/**
 * The factor from lux to PPFD of a spectrum: two columns, wavelength in nm and power per nm (not photons),
 * parted by comma, semicolon, tab or spaces; lines before the first with two numbers are its head. The fault
 * of a line is named with its number.
 */
export function readSpectrum(text: string): SpectrumAnswer {
  const lines = text.split(/\r?\n/);
  const cells = lines.map((line) => cellsOf(line));
  const decimal = guessDecimal(cells.flat());
  const points: SpectrumPoint[] = [];
  for (const [i, row] of cells.entries()) {
    const [nm, power] = row.slice(0, 2).map((cell) => numberIn(cell, decimal));
    if (nm !== undefined && nm !== null && power !== undefined && power !== null) {
      points.push({ nm, power });
    } else if (points.length > 0 && row.some((cell) => cell !== '')) {
      const found = lines[i]?.trim() ?? '';
      return {
        ok: false,
        problem: `Line ${i + 1}: found ${found.slice(0, 40)}; a wavelength in nm and a power are expected.`,
      };
    }
  }
  try {
    const factor = luxPerPpfdOf(points);
    return {
      ok: true,
      factor: {
        factor: rounded(factor, 2),
        lowest: rounded(factor * (1 - SPECTROMETER), 2),
        highest: rounded(factor * (1 + SPECTROMETER), 2),
      },
    };
  } catch (error) {
    return { ok: false, problem: `The spectrum cannot be used: ${reasonOf(error)}.` };
  }
}

/** Powers such as 1.2E-03 are usual in spectra, and no table of growers holds them. */
function numberIn(cell: string, decimal: '.' | ','): number | null {
  if (/^[+-]?\d+([.,]\d+)?e[+-]?\d+$/i.test(cell)) return Number(cell.replace(',', '.'));
  return readNumber(cell, decimal);
}

const NUMBER = /^[+-]?\d+([.,]\d+)?(e[+-]?\d+)?$/i;

/** Between semicolons or tabs; numbers between spaces, which may have a decimal comma; else commas. */
function cellsOf(line: string): string[] {
  const trimmed = line.trim();
  if (/[;\t]/.test(trimmed)) return trimmed.split(/\s*[;\t]\s*/);
  const words = trimmed.split(/\s+/);
  return words.length > 1 && words.every((word) => NUMBER.test(word))
    ? words
    : trimmed.split(/\s*,\s*/);
}
