import { containmentStrata } from './containment';
import { derivativeSums, project } from './criterion';
import { addScaled } from './linalg';
import { orthogonalDesign } from './orthogonal';
import { bestRatios } from './ratios';
import { reduce, type RandomColumns } from './reduced';
import { expectedUncertainty, observedUncertainty, solveEffects } from './uncertainty';
import { waldModel, type Yardstick } from './wald';
import { explainedUnitWarning, singularWarning, unsettledWarning, zeroUnitWarning } from './words';
import type { Matrix } from '../model';
import { EXPLAINED, type Denominator, type MixedFit, type RandomUnit } from './types';

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
    throw new Error(
      `mixed model: a design matrix of ${x.data.length} entries; expected ${x.rows} × ${x.columns}`,
    );
  }
  if (y.length !== x.rows) {
    throw new Error(`mixed model: ${y.length} responses; expected ${x.rows}, one a design row`);
  }
  const bad = y.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new Error(`mixed model: the response in row ${bad + 1} is ${y[bad]}; expected a number`);
  }
  const hole = x.data.findIndex((value) => !Number.isFinite(value));
  if (hole >= 0) {
    throw new Error(
      `mixed model: design row ${Math.floor(hole / x.columns) + 1} holds ${x.data[hole]}; ` +
        'expected a number',
    );
  }
}

/** REML fit of y = Xβ + Σ Z_k u_k + e with one variance a component. */
export function fitComponents(input: ComponentInput): MixedFit {
  checkShapes(input);
  const { x, y, components, denominator } = input;
  const n = x.rows;
  const design = orthogonalDesign(x);
  const data = reduce(design, y, components);
  const warnings: string[] = [];

  const fixed = data.parts.map((part, k) => {
    let left = 0;
    for (let i = part.start; i < part.start + part.count; i++) {
      left += data.m[i * data.q + i] ?? 0;
    }
    const lost = !(left > EXPLAINED * (data.size[k] ?? 0));
    if (lost) warnings.push(explainedUnitWarning(part.name));
    return lost;
  });
  const { at, settled } = bestRatios(data, fixed);
  if (!settled) warnings.push(unsettledWarning);
  const projected = project(data, at);
  const sums = derivativeSums(data, projected);
  const solved = solveEffects(data, at, projected);

  data.parts.forEach((part, k) => {
    if (at.ratios[k] !== 0 || fixed[k] === true) return;
    if (k >= input.units.length) {
      warnings.push(`No ${part.name} is seen beyond chance; its variance is estimated as zero.`);
      return;
    }
    warnings.push(zeroUnitWarning(part.name, denominator));
  });

  let covariance: Float64Array = solved.phi.map((value) => value * solved.residual);
  let yardstick: Yardstick = { kind: 'asymptotic' };
  if (denominator === 'containment') {
    yardstick = { kind: 'containment', strata: containmentStrata(x, design.kept, input.units) };
  } else if (denominator !== 'asymptotic') {
    const uncertainty =
      denominator === 'satterthwaite'
        ? observedUncertainty(data, at, sums, solved)
        : expectedUncertainty(data, at, projected, sums, solved);
    if (uncertainty === null) {
      warnings.push(singularWarning);
    } else {
      covariance = uncertainty.covariance;
      yardstick = { kind: denominator, ...uncertainty };
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
    yardstick,
  });
  return {
    ...model,
    variance: [
      ...data.parts.map((part, k) => ({
        unit: part.name,
        variance: (at.ratios[k] ?? 0) * solved.residual,
      })),
      { unit: 'residual', variance: solved.residual },
    ],
    logLik,
    criterion: 'REML',
    aic: -2 * logLik + 2 * (design.rank + data.parts.length + 1),
    fitted,
    warnings,
  };
}
