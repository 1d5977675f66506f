import { quickLimits } from '../../../shared-types/window/quickStart';

export type ReadGrid =
  | { ok: true; value: { columns: number; rows: number } }
  | { ok: false; expected: string };

/** Two whole numbers with a sign or word of multiplication, or a space, between them. */
const PAIR = /^(\d+)\s*(?:×|x|\*|·|by|\s)\s*(\d+)$/i;

/** How many pots stand across and how many deep: `9 × 9`, `9x9`, `9*9`, `9 by 9` or `9 9`. */
export function readGrid(text: string): ReadGrid {
  const written = text.trim();
  const pair = PAIR.exec(written);
  const { lowest, highest } = quickLimits.grid;
  if (!pair) {
    const total = /^\d+$/.test(written) ? Number(written) : 0;
    return {
      ok: false,
      expected:
        total > 0
          ? `${total} in how many rows? Type pots across × rows, such as ${example(total)}.`
          : `${found(written)}; pots across × rows are expected, such as 9 × 9.`,
    };
  }
  const [columns, rows] = [Number(pair[1]), Number(pair[2])];
  const outside = [columns, rows].find((n) => n < lowest || n > highest);
  if (outside === undefined) return { ok: true, value: { columns, rows } };
  return { ok: false, expected: `${found(written)}; ${lowest} to ${highest} a row are expected.` };
}

export const sayGrid = ({ columns, rows }: { columns: number; rows: number }): string =>
  `${columns} × ${rows}`;

const found = (written: string): string =>
  written === '' ? 'Found nothing' : `Found “${written}”`;

/** The most nearly square grid of so many pots. */
function example(total: number): string {
  const rows = Array.from({ length: Math.floor(Math.sqrt(total)) }, (_, i) => i + 1)
    .reverse()
    .find((n) => total % n === 0);
  return `${total / (rows ?? 1)} × ${rows ?? 1}`;
}
