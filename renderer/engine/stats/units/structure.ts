import type { Design, DesignTerm, UnitCodes } from '../design';
import { refines } from '../strata';

/** What a term, or the general mean, is judged by. */
export interface ErrorTerm {
  /** The coarsest unit within which it is constant; null: it varies within all. */
  readonly unit: UnitCodes | null;
  /** Units within which it varies, which both sides of the comparison are adjusted for. */
  readonly varies: readonly UnitCodes[];
}

/** Whether all rows of a unit share the levels and values of a term. */
export function constantWithin(design: Design, term: DesignTerm, unit: UnitCodes): boolean {
  const parts = [
    ...term.factors.map((name) => design.factors.get(name)?.codes),
    ...term.covariates.map((name) => design.covariates.get(name)),
  ];
  const first = new Map<number, number>();
  return unit.codes.every((code, i) => {
    const home = first.get(code) ?? i;
    first.set(code, home);
    return parts.every((values) => values?.[i] === values?.[home]);
  });
}

export function errorTermOf(
  design: Design,
  term: DesignTerm,
  units: readonly UnitCodes[],
): ErrorTerm {
  const holding = units.filter((unit) => constantWithin(design, term, unit));
  const varies = units.filter((unit) => !holding.includes(unit));
  return { unit: coarsest(holding), varies };
}

function coarsest(units: readonly UnitCodes[]): UnitCodes | null {
  return units.reduce<UnitCodes | null>(
    (best, unit) => (best === null || unit.levels < best.levels ? unit : best),
    null,
  );
}

/** A unit beside the ones that are not parts of it: coarser ones, and ones that cross it. */
export function ownErrorTerm(unit: UnitCodes, units: readonly UnitCodes[]): ErrorTerm {
  return { unit, varies: units.filter((other) => other !== unit && !refines(other, unit)) };
}

/** Units that lie in no other: what the general mean varies by. */
export function outermost(units: readonly UnitCodes[]): UnitCodes[] {
  return units.filter((unit) => !units.some((other) => other !== unit && refines(unit, other)));
}

/**
 * The units that part the rows into groups, each partition once; a unit of single rows is the
 * residual, and is left out with a warning.
 */
export function distinctUnits(units: readonly UnitCodes[]): {
  kept: UnitCodes[];
  warnings: string[];
} {
  const kept: UnitCodes[] = [];
  const warnings: string[] = [];
  for (const unit of units) {
    const same = kept.find((other) => refines(unit, other) && refines(other, unit));
    if (unit.levels === unit.codes.length) {
      warnings.push(`Each ${unit.unit} holds one row: its variation is the residual.`);
    } else if (same) {
      warnings.push(`${unit.unit} divides the rows just as ${same.unit} does; it counts once.`);
    } else kept.push(unit);
  }
  return { kept, warnings };
}
