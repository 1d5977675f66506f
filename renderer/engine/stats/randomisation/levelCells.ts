import { entry, num, whole } from '../../entry';
import type { Design, DesignTerm } from '../design';

/** The combinations of all treatments' levels, numbered with the last factor running fastest. */
export interface LevelCells {
  /** How many there are. */
  readonly m: number;
  /** That of each row, as the design has it. */
  readonly observed: Int32Array;
  /** By column of the treatments, the combinations in which it is 1. */
  readonly filled: readonly Int32Array[];
  /** The combination that has `levels` of some factors (by name) and is else like `cell`. */
  moved(cell: number, levels: ReadonlyMap<string, number>): number;
}

export function levelCells(design: Design, treated: readonly DesignTerm[]): LevelCells {
  const names = [...new Set(treated.flatMap(({ factors }) => factors))];
  const factors = names.map((name) => {
    const factor = design.factors.get(name);
    if (!factor) throw new Error(`randomisation test: ${name} is no factor of the design`);
    return factor;
  });
  const counts = factors.map(({ levels }) => levels.length);
  const m = counts.reduce((product, count) => product * count, 1);

  const cellOf = (levels: readonly number[]): number =>
    levels.reduce((cell, level, f) => cell * num(counts, f) + level, 0);
  const levelsOf = (cell: number): number[] => {
    const levels = new Array<number>(names.length).fill(0);
    for (let f = names.length - 1; f >= 0; f--) {
      const count = num(counts, f);
      levels[f] = cell % count;
      cell = Math.floor(cell / count);
    }
    return levels;
  };
  const levelsByCell = Array.from({ length: m }, (_, cell) => levelsOf(cell));
  const observed = Int32Array.from({ length: design.y.length }, (_, i) =>
    cellOf(factors.map(({ codes }) => whole(codes, i))),
  );
  const filled = treated
    .flatMap(({ columns }) => columns)
    .map((j) => {
      const wanted = [...(entry(design.columns, j).levels ?? [])];
      const cells = levelsByCell.flatMap((levels, cell) =>
        wanted.every(([name, level]) => levels[names.indexOf(name)] === level) ? [cell] : [],
      );
      return Int32Array.from(cells);
    });
  return {
    m,
    observed,
    filled,
    moved: (cell, levels) =>
      cellOf(levelsOf(cell).map((level, f) => levels.get(entry(names, f)) ?? level)),
  };
}
