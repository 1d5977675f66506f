import { containmentStrata } from './containment';
import { derivativeSums, project } from './criterion';
import { isPositive } from './cholesky';
import { addScaled } from './linalg';
import { orthogonalDesign } from './orthogonal';
import { bestRatios } from './ratios';
import { reduce, type RandomColumns, type Reduced } from './reduced';
import { expectedUncertainty, observedUncertainty, solveEffects } from './uncertainty';
import { waldModel, type DfMethod } from './wald';
import {
  explainedUnitWarning,
  singularWarning,
  uncorrectedWarning,
  unsettledWarning,
  zeroUnitWarning,
} from './words';
import type { Matrix } from '../model';
import { EXPLAINED, type Denominator, type MixedFit, type RandomUnit } from './types';
import { Refusal } from '../../../words';

export interface ComponentInput {
  x: Matrix;
  /** How many of the first columns of X the caller knows; the others are the model's own. */
  shown: number;
  y: Float64Array;
  components: readonly RandomColumns[];
  /** The units, which are the first of the components; those after them make up a surface. */
  units: readonly RandomUnit[];
  denominator: Denominator;
}

function checkShapes({ x, y, shown }: ComponentInput): void {
  if (x.data.length !== x.rows * x.columns || shown > x.columns) {
    throw new Refusal(
      `mixed model: a design matrix of ${x.data.length} entries; expected ${x.rows} × ${x.columns}`,
    );
  }
  if (y.length !== x.rows) {
    throw new Refusal(`mixed model: ${y.length} responses; expected ${x.rows}, one a design row`);
  }
  const bad = y.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new Refusal(
      `mixed model: the response in row ${bad + 1} is ${y[bad]}; expected a number`,
    );
  }
  const hole = x.data.findIndex((value) => !Number.isFinite(value));
  if (hole >= 0) {
    throw new Refusal(
      `mixed model: design row ${Math.floor(hole / x.columns) + 1} holds ${x.data[hole]}; ` +
        'expected a number',
    );
  }
}

/** Whether X leaves anything of a component's columns. */
function isLeft(data: Reduced, k: number): boolean {
  const { start, count } = data.parts[k] ?? { start: 0, count: 0 };
  let left = 0;
  for (let i = start; i < start + count; i++) left += data.m[i * data.q + i] ?? 0;
  return left > EXPLAINED * (data.size[k] ?? 0);
}

/** REML fit of y = Xβ + Σ Z_k u_k + e with one variance a component. */
export function fitComponents(input: ComponentInput): MixedFit {
  checkShapes(input);
  const { x, y, denominator } = input;
  const n = x.rows;
  const design = orthogonalDesign(x);
  const warnings: string[] = [];
  const all = reduce(design, y, input.components);
  const components = input.components.filter((_, k) => isLeft(all, k));
  // What X explains has no part in the search, nor in the information about the variances.
  const data = components.length < all.parts.length ? reduce(design, y, components) : all;
  const { at, settled } = bestRatios(data);
  if (!settled) warnings.push(unsettledWarning);
  const projected = project(data, at);
  const sums = derivativeSums(data, projected);
  const solved = solveEffects(data, at, projected);

  const variance = input.components.map((component, k) => {
    const found = components.indexOf(component);
    const ratio = at.ratios[found] ?? 0;
    const { name } = component;
    if (found < 0) warnings.push(explainedUnitWarning(name));
    else if (ratio === 0 && k < input.units.length) {
      warnings.push(zeroUnitWarning(name, denominator));
    } else if (ratio === 0) {
      warnings.push(`No ${name} is seen beyond chance; its variance is estimated as zero.`);
    }
    return { unit: name, variance: ratio * solved.residual, found };
  });

  let covariance: Float64Array = solved.phi.map((value) => value * solved.residual);
  let ofVariances: Float64Array | null = null;
  let dfMethod: DfMethod = { kind: 'asymptotic' };
  if (denominator === 'containment') {
    dfMethod = { kind: 'containment', strata: containmentStrata(x, design.kept, input.units) };
  } else if (denominator !== 'asymptotic') {
    const uncertainty =
      denominator === 'satterthwaite'
        ? observedUncertainty(data, at, sums, solved)
        : expectedUncertainty(data, at, projected, sums, solved);
    if (uncertainty === null) {
      warnings.push(singularWarning);
    } else {
      ofVariances = uncertainty.ofVariances;
      if (isPositive(uncertainty.covariance, design.rank)) covariance = uncertainty.covariance;
      else warnings.push(uncorrectedWarning);
      dfMethod = { kind: denominator, ...uncertainty };
    }
  }

  const fitted = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    design.kept.forEach((column, j) => {
      sum += (x.data[i * x.columns + column] ?? 0) * (solved.beta[j] ?? 0);
    });
    fitted[i] = sum;
  }
  let column = 0;
  for (const component of components) {
    for (let j = 0; j < component.count; j++) {
      addScaled(fitted, 0, solved.effects[column] ?? 0, component.rows, j * n, n);
      column++;
    }
  }

  const logLik = -at.value / 2;
  const model = waldModel({
    columns: input.shown,
    kept: design.kept.filter((column) => column < input.shown),
    beta: solved.beta,
    phi: solved.phi.map((value) => value * solved.residual),
    covariance,
    dfMethod,
  });
  return {
    ...model,
    variance: [
      ...variance,
      { unit: 'residual', variance: solved.residual, found: components.length },
    ].map(({ unit, variance: value, found }) => {
      const spread = ofVariances?.[found] ?? 0;
      return { unit, variance: value, df: spread > 0 ? (2 * value ** 2) / spread : null };
    }),
    logLik,
    criterion: 'REML',
    aic: -2 * logLik + 2 * (design.rank + input.components.length + 1),
    fitted,
    warnings,
  };
}
