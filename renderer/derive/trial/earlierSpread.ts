import {
  potVariance,
  SCALE_WORDS,
  type Findings,
  type FindingsOutcome,
} from '../../engine/findings';
import { fit } from '../../engine/stats/fit';
import { meanUnitSize, unitVarianceUpper } from '../../engine/trial/power';
import { roundedTo, unlessRefused } from '../../words';

/** How much the units above the plants differed. */
export interface UnitSpread {
  /** Column that names them: tray, shelf… */
  name: string;
  /** Standard deviation as estimated; 0 where they differ by no more than their plants do. */
  sd: number;
  /** Upper 95 % limit of that. */
  upper: number;
}

/** The spread found in an earlier trial, as the power figures take it. */
export interface EarlierSpread {
  plantSd: number;
  /** The units that differed most; null where the model has none, and tells nothing of them. */
  units: UnitSpread | null;
  /** Degrees of freedom that the spread of plants was found on. */
  df: number | null;
  response: string;
  unit: string;
}

/** What the power figures of the next trial take: an estimate of zero from a few units is no proof of none. */
export function spreadTaken(found: {
  plantSd: number;
  units: Pick<UnitSpread, 'sd' | 'upper'> | null;
}): { plantSd: number; unitSd?: number } {
  const { plantSd, units } = found;
  const unitSd = units === null ? 0 : units.sd > 0 ? units.sd : units.upper;
  return { plantSd: rounded(plantSd), ...(unitSd > 0 ? { unitSd: rounded(unitSd) } : {}) };
}

/** Three digits: a spread is known no better. */
const rounded = (value: number): number => roundedTo(value, 3);

/**
 * Spread of plants and units in the model that answers an earlier plan: what the next trial's
 * treatments will have to stand out from.
 */
export function spreadOf(outcome: FindingsOutcome): EarlierSpread | { missing: string } {
  if (!outcome.ok) return { missing: outcome.missing };
  const { findings } = outcome;
  if (findings.averaged) {
    return {
      missing: 'Its counts were averaged, which tells nothing of how much equal plants differ.',
    };
  }
  if (findings.scale !== null) {
    return {
      missing: `It was analysed as ${SCALE_WORDS[findings.scale]}, so how much its plants differ is not in ${findings.response.unit || 'plain numbers'}.`,
    };
  }
  const { residual, variance } = findings.primary.result;
  const plants = potVariance(findings.primary.result);
  if (!(plants > 0)) {
    return { missing: 'Its findings show no difference between equal plants.' };
  }
  const units = findings.design.randomUnits.flatMap(([name, crossed]) => {
    const part = variance.find(({ unit }) => unit === name);
    // Crossings of strips are no units that a next trial lays a treatment on by itself.
    if (name === undefined || crossed !== undefined || !part) return [];
    const sd = Math.sqrt(Math.max(0, part.variance));
    const upper = upperSd(findings, name);
    return upper === null ? [] : [{ name, sd, upper: Math.max(sd, upper) }];
  });
  return {
    plantSd: Math.sqrt(plants),
    units: units.sort((a, b) => b.sd - a.sd || b.upper - a.upper)[0] ?? null,
    df: residual?.df ?? null,
    response: findings.response.name,
    unit: findings.response.unit,
  };
}

/**
 * Upper limit from the mean square between the units, by least squares with treatments, blocks and
 * the other units in the model; null where nothing is left to tell it by.
 */
function upperSd(findings: Findings, name: string): number | null {
  const { design, primary, table } = findings;
  const others = design.randomUnits.flat().filter((unit) => unit !== name);
  const plain = {
    ...primary.request,
    randomUnits: [],
    exactStrata: false,
    position: null,
    tests: 'sequential' as const,
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
    redraw: null,
  };
  // A coarser unit has its own differences; a finer one would take those of this unit with it.
  const levels = (column: string) => new Set(table.columns[column]).size;
  const coarser = others.filter((unit) => levels(unit) < levels(name));
  const fixed = [...new Set([...design.fixedBlocks, ...coarser])];
  return unlessRefused(() => {
    const without = fit({ ...plain, fixedBlocks: fixed }, table);
    const within = fit({ ...plain, fixedBlocks: [...fixed, name] }, table);
    if (!without.residual || !within.residual) return null;
    const dfUnits = without.residual.df - within.residual.df;
    if (dfUnits < 1 || within.residual.df < 1) return null;
    const sizes = new Map<string, number>();
    for (const { index } of within.rows) {
      const unit = String(table.columns[name]?.[index]);
      sizes.set(unit, (sizes.get(unit) ?? 0) + 1);
    }
    return Math.sqrt(
      unitVarianceUpper({
        msUnits: (without.residual.ss - within.residual.ss) / dfUnits,
        dfUnits,
        msWithin: within.residual.ms,
        dfWithin: within.residual.df,
        perUnit: meanUnitSize([...sizes.values()]),
      }),
    );
  });
}
