import type { Design } from './design';

/**
 * The weights that give a coefficient as if the covariates had entered as measured: with
 * x = (x − x̄) + x̄ a column keeps its slope and takes up −x̄ times the ones that hold the same
 * levels and further covariates.
 */
export function uncentredWeights(design: Design, own: number): Float64Array {
  const asked = design.columns[own];
  return Float64Array.from(design.columns, (column, j) => {
    if (!asked || j === own) return Number(j === own);
    const sameLevels =
      column.levels.size === asked.levels.size &&
      [...asked.levels].every(([name, level]) => column.levels.get(name) === level);
    if (!sameLevels || !asked.covariates.every((name) => column.covariates.includes(name))) {
      return 0;
    }
    return column.covariates
      .filter((name) => !asked.covariates.includes(name))
      .reduce((product, name) => product * -(design.centres.get(name) ?? 0), 1);
  });
}
