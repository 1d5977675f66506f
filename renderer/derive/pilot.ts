import { isBlank, readNumber } from '../document/records';

export interface PilotSpread {
  plantSd: number;
  /** 0 where the lines differ by no more than their plants make them differ. */
  unitSd: number;
  plants: number;
  lines: number;
}

/**
 * Spread from a pilot, typed as one line of values for each tray or shelf treated alike: within
 * lines by the pooled mean square, between lines by (MSB − MSW)/n₀ with n₀ = (N − Σn²/N)/(k − 1)
 * (Snedecor & Cochran 1989, Statistical Methods, 13.5: one-way classification, unequal numbers).
 */
export function pilotSpread(text: string): PilotSpread | { missing: string } {
  const lines: number[][] = [];
  for (const [i, line] of text.split(/\r\n|\n|\r/).entries()) {
    // Values are parted by spaces, tabs or semicolons; a comma is a decimal mark.
    const cells = line.split(/[\s;]+/).filter((cell) => !isBlank(cell));
    if (cells.length === 0) continue;
    const values: number[] = [];
    for (const cell of cells) {
      const value = readNumber(cell, cell.includes(',') ? ',' : '.');
      if (value === null) return { missing: `Line ${i + 1}: “${cell}” is no number.` };
      values.push(value);
    }
    lines.push(values);
  }
  const n = lines.reduce((sum, line) => sum + line.length, 0);
  const k = lines.length;
  if (n - k < 1) return { missing: 'At least two plants treated alike in one line are expected.' };
  const grand = lines.flat().reduce((sum, value) => sum + value, 0) / n;
  let within = 0;
  let between = 0;
  for (const line of lines) {
    const mean = line.reduce((sum, value) => sum + value, 0) / line.length;
    between += line.length * (mean - grand) ** 2;
    for (const value of line) within += (value - mean) ** 2;
  }
  const ms = within / (n - k);
  if (!(ms > 0)) return { missing: 'The plants of a line are all alike; there is no spread.' };
  const squares = lines.reduce((sum, line) => sum + line.length ** 2, 0);
  const n0 = k > 1 ? (n - squares / n) / (k - 1) : 1;
  const above = k > 1 ? (between / (k - 1) - ms) / n0 : 0;
  return { plantSd: Math.sqrt(ms), unitSd: Math.sqrt(Math.max(0, above)), plants: n, lines: k };
}
