import { ar1Curvature, type Ar1Curvature } from './curvature';
import { prepareAr1, type Ar1Input, type PreparedAr1 } from './prepare';
import { ar1Optimum, type Ar1Optimum } from './search';
import { ar1SmallSample } from './smallSample';
import { containmentStrata } from '../containment';
import { fitMixed } from '../fitMixed';
import { isPositive } from '../cholesky';
import { sandwich, solveR } from '../orthogonal';
import type { DfMethod } from '../wald/df';
import { logDetPhi, waldModel, type FixedEffects } from '../wald/wald';
import {
  explainedUnitWarning,
  singularWarning,
  uncorrectedWarning,
  unsettledWarning,
  zeroUnitWarning,
} from '../words';
import type { MixedFit, RandomUnit } from '../types';
import { num, real } from '../../../entry';

export interface Ar1Fit extends MixedFit {
  readonly spatial: {
    /** Correlation of neighbours one step apart along the rows' numbering, and the columns'. */
    rowCorrelation: number;
    columnCorrelation: number;
    spatialVariance: number;
    /** Variance of the pot itself, unrelated to its neighbours. */
    nugget: number;
  };
}

/** The same without any likeness of neighbours. */
function withoutSpace(input: Ar1Input, random: RandomUnit[]): Ar1Fit {
  const { x, y, denominator } = input;
  const plain = fitMixed({ x, y, random, denominator });
  const nugget = plain.variance.at(-1)?.variance ?? 0;
  return {
    ...plain,
    variance: [
      ...plain.variance.slice(0, -1),
      { unit: 'spatial', variance: 0 },
      { unit: 'residual', variance: nugget },
    ],
    warnings: [
      'Neighbours are no more alike than any two pots; no spatial variance is left.',
      ...plain.warnings,
    ],
    spatial: { rowCorrelation: 0, columnCorrelation: 0, spatialVariance: 0, nugget },
  };
}

/** What is said of parameters that could not be estimated or are at an edge. */
function edgeWarnings(
  { random = [], denominator }: Ar1Input,
  { limits }: PreparedAr1,
  { point: { shape }, settled }: Ar1Optimum,
): string[] {
  const warnings: string[] = [];
  random.forEach(({ unit }, k) => {
    if (limits.units[k] !== true) warnings.push(explainedUnitWarning(unit));
    else if (shape.unitRatios[k] === 0) warnings.push(zeroUnitWarning(unit, denominator));
  });
  if (limits.nugget && shape.nuggetShare === 0) {
    warnings.push('The nugget is estimated as zero: all variation between pots is spatial.');
  }
  let edge = false;
  for (const [name, rho, estimated] of [
    ['rows', shape.rowCorrelation, limits.row.free],
    ['columns', shape.columnCorrelation, limits.column.free],
  ] as const) {
    if (!estimated) {
      warnings.push(`There are no two ${name} in any group; their correlation is not estimated.`);
    } else if (Math.abs(rho) > 0.9999) {
      edge = true;
      warnings.push(
        `The correlation along ${name} is at the edge of what is possible; it and the spatial ` +
          'variance are rough.',
      );
    }
  }
  if (!settled && !edge) warnings.push(unsettledWarning);
  return warnings;
}

/** What tests are referred to, and the covariance of the coefficients. */
interface Reference {
  dfMethod: DfMethod;
  covariance: Float64Array;
}

/** `phi`: the covariance as if V were known. Says in `warnings` where a correction failed. */
function referenceOf(
  { x, random = [], denominator }: Ar1Input,
  { data: { design }, limits }: PreparedAr1,
  optimum: Ar1Optimum,
  curvature: Ar1Curvature,
  phi: Float64Array,
  warnings: string[],
): Reference {
  switch (denominator) {
    case 'containment': {
      const strata = containmentStrata(x, design.kept, random);
      return { dfMethod: { kind: denominator, strata }, covariance: phi };
    }
    case 'asymptotic':
      return { dfMethod: { kind: denominator }, covariance: phi };
    case 'satterthwaite':
    case 'kenward-roger': {
      const found = ar1SmallSample(denominator, curvature, optimum, design, limits);
      if (found === null) {
        warnings.push(singularWarning);
        return { dfMethod: { kind: 'asymptotic' }, covariance: phi };
      }
      if (isPositive(found.covariance, design.rank)) return found;
      warnings.push(uncorrectedWarning);
      return { ...found, covariance: phi };
    }
  }
}

/**
 * Plants next to each other alike: V = s·ρ_row^|Δrow|·ρ_column^|Δcolumn| within a group, plus a
 * nugget g on the diagonal and a variance for each random unit, by REML (Cullis & Gleeson 1991,
 * Biometrics 47, 1449–1460). Parameters at an edge are said so in `warnings`. `variance` has the
 * units, then `spatial`, then the nugget as `residual`. Containment df take no notice of the
 * likeness of neighbours.
 */
export function fitAr1(input: Ar1Input): Ar1Fit {
  const prepared = prepareAr1(input);
  const { data, limits, parameters } = prepared;
  const { design, y } = data;
  const { denominator, random = [] } = input;
  const optimum = ar1Optimum(data, limits);
  const { shape, total, value } = optimum.point;
  const logLik = -value / 2;
  const aicAt = (l: number) => -2 * l + 2 * (design.rank + parameters);
  if (limits.nugget) {
    const plain = withoutSpace(input, random);
    if (plain.logLik >= logLik - 1e-8) return { ...plain, aic: aicAt(plain.logLik) };
  }
  const warnings = edgeWarnings(input, prepared, optimum);
  const exact = denominator === 'satterthwaite' || denominator === 'kenward-roger';
  const curvature = ar1Curvature(data, optimum.point, exact);
  const phi = sandwich(design, curvature.phi);
  const fixed: FixedEffects = {
    columns: input.x.columns,
    kept: design.kept,
    beta: solveR(design, curvature.beta, 1),
    phi,
    ...referenceOf(input, prepared, optimum, curvature, phi, warnings),
  };
  const { rowCorrelation, columnCorrelation } = shape;
  const nugget = total * shape.nuggetShare;
  const spatialVariance = total * (1 - shape.nuggetShare);
  return {
    ...waldModel(fixed),
    logDetPhi: () => logDetPhi(fixed),
    variance: [
      ...random.map(({ unit }, k) => ({ unit, variance: total * num(shape.unitRatios, k) })),
      { unit: 'spatial', variance: spatialVariance },
      { unit: 'residual', variance: nugget },
    ],
    logLik,
    criterion: 'REML',
    aic: aicAt(logLik),
    // y − gV⁻¹(y − Xβ): all but the part that is the pot's own.
    fitted: y.map((one, i) => one - nugget * real(curvature.weighted, i)),
    warnings,
    spatial: { rowCorrelation, columnCorrelation, spatialVariance, nugget },
  };
}
