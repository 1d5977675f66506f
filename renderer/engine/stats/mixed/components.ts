import { containmentStrata } from './containment';
import { derivativeSums, project } from './projected';
import { isPositive } from './cholesky';
import { addSparse } from '../linear';
import { orthogonalDesign } from './orthogonal';
import { bestRatios } from './ratios';
import { reduceLayout, reduceResponse } from './reduced';
import type { RandomColumns } from './columnBlocks';
import type { Reduced, ReducedLayout } from './reduced';
import { betaOf, solveEffects } from './solved';
import type { Solved } from './solved';
import { expectedUncertainty, observedUncertainty } from './uncertainty';
import type { VarianceUncertainty } from './uncertainty';
import type { DfMethod } from './wald/df';
import { logDetPhi, waldModel, type FixedEffects } from './wald/wald';
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
import { real } from '../../entry';

export interface ComponentLayout {
  x: Matrix;
  /** How many of the first columns of X the caller knows; the others are the model's own. */
  shown: number;
  components: readonly RandomColumns[];
  /** The units, which are the first of the components; those after them make up a surface. */
  units: readonly RandomUnit[];
  denominator: Denominator;
}

function checkLayout({ x, shown }: ComponentLayout): void {
  if (x.data.length !== x.rows * x.columns || shown > x.columns) {
    throw new Refusal(
      `mixed model: a design matrix of ${x.data.length} entries; expected ${x.rows} × ${x.columns}`,
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

function checkResponse({ x }: ComponentLayout, y: Float64Array): void {
  if (y.length !== x.rows) {
    throw new Refusal(`mixed model: ${y.length} responses; expected ${x.rows}, one a design row`);
  }
  const bad = y.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new Refusal(
      `mixed model: the response in row ${bad + 1} is ${y[bad]}; expected a number`,
    );
  }
}

/** Whether X leaves anything of a component's columns. */
function isLeft(data: ReducedLayout, k: number): boolean {
  const { start, count } = data.parts[k] ?? { start: 0, count: 0 };
  let left = 0;
  for (let i = start; i < start + count; i++) left += real(data.left, i);
  return left > EXPLAINED * real(data.size, k);
}

/**
 * REML fits of y = Xβ + Σ Z_k u_k + e with one variance a component, for one response after another.
 * All that rests on the layout is computed once; so is the search for the variances, where responses
 * differ only by what X explains.
 */
export function componentFits(input: ComponentLayout): (y: Float64Array) => MixedFit {
  checkLayout(input);
  const design = orthogonalDesign(input.x);
  const all = reduceLayout(input.x, design, input.components);
  const components = input.components.filter((_, k) => isLeft(all, k));
  // What X explains has no part in the search, nor in the information about the variances.
  const layout =
    components.length < all.parts.length ? reduceLayout(input.x, design, components) : all;
  let last: Searched | null = null;
  return (y) => {
    checkResponse(input, y);
    const data = reduceResponse(layout, y);
    const searched: Searched =
      last && differsByX(last.data, data) ? last : search(data, input.denominator);
    last = searched;
    return fitAt(input, components, y, data, searched);
  };
}

interface Searched {
  readonly data: Reduced;
  readonly found: ReturnType<typeof bestRatios>;
  readonly solved: Solved;
  readonly uncertainty: VarianceUncertainty | null;
}

function search(data: Reduced, denominator: Denominator): Searched {
  const found = bestRatios(data);
  const { at } = found;
  const projected = project(data, at);
  const sums = derivativeSums(data, projected);
  const solved = solveEffects(data, at, projected);
  return { data, found, solved, uncertainty: uncertaintyOf() };

  function uncertaintyOf(): VarianceUncertainty | null {
    switch (denominator) {
      case 'satterthwaite':
        return observedUncertainty(data, at, sums, solved);
      case 'kenward-roger':
        return expectedUncertainty(data, at, projected, sums, solved);
      case 'containment':
      case 'asymptotic':
        return null;
      default:
        return denominator satisfies never;
    }
  }
}

/** Whether all that the variances are estimated from is the same but for rounding. */
function differsByX(one: Reduced, other: Reduced): boolean {
  const near = 1e-12 * other.yy;
  return (
    Math.abs(one.yy - other.yy) <= near &&
    one.b.every(
      (value, j) => (value - real(other.b, j)) ** 2 <= 1e-24 * other.yy * real(other.left, j),
    )
  );
}

function fitAt(
  input: ComponentLayout,
  components: readonly RandomColumns[],
  y: Float64Array,
  data: Reduced,
  { data: searched, found: { at, settled }, solved: known, uncertainty }: Searched,
): MixedFit {
  const { design } = data;
  // What differs by X alone has the same effects, and coefficients of its own.
  const solved = data === searched ? known : { ...known, beta: betaOf(data, known.effects) };
  const variance = variancesOf(input, components, at.ratios, solved.residual);
  const reference = referenceOf(input, data, solved, uncertainty);
  const logLik = -at.value / 2;
  const fixed: FixedEffects = {
    columns: input.shown,
    kept: design.kept.filter((column) => column < input.shown),
    beta: solved.beta,
    phi: solved.phi.map((value) => value * solved.residual),
    covariance: reference.covariance,
    dfMethod: reference.dfMethod,
  };
  return {
    ...waldModel(fixed),
    logDetPhi: () => logDetPhi(fixed),
    variance: [
      ...variance.rows,
      { unit: 'residual', variance: solved.residual, found: components.length },
    ].map(({ unit, variance: value, found }) => {
      const spread = reference.ofVariances?.[found] ?? 0;
      return { unit, variance: value, df: spread > 0 ? (2 * value ** 2) / spread : null };
    }),
    logLik,
    criterion: 'REML',
    aic: -2 * logLik + 2 * (design.rank + input.components.length + 1),
    fitted: fittedOf(input.x, design.kept, solved, components, y.length),
    warnings: [...(settled ? [] : [unsettledWarning]), ...variance.warnings, ...reference.warnings],
  };
}

/** The variance of each component, `found` its place among those that X leaves anything of. */
function variancesOf(
  { units, denominator, components: all }: ComponentLayout,
  components: readonly RandomColumns[],
  ratios: Float64Array,
  residual: number,
): { rows: { unit: string; variance: number; found: number }[]; warnings: string[] } {
  const warnings: string[] = [];
  const rows = all.map((component, k) => {
    const found = components.indexOf(component);
    const ratio = ratios[found] ?? 0;
    const { name } = component;
    if (found < 0) warnings.push(explainedUnitWarning(name));
    else if (ratio === 0 && k < units.length) {
      warnings.push(zeroUnitWarning(name, denominator));
    } else if (ratio === 0) {
      warnings.push(`No ${name} is seen beyond chance; its variance is estimated as zero.`);
    }
    return { unit: name, variance: ratio * residual, found };
  });
  return { rows, warnings };
}

/** What estimates are referred to, and their covariance under it. */
interface Reference {
  readonly covariance: Float64Array;
  readonly ofVariances: Float64Array | null;
  readonly dfMethod: DfMethod;
  readonly warnings: readonly string[];
}

function referenceOf(
  { x, units, denominator }: ComponentLayout,
  { design }: Reduced,
  solved: Solved,
  uncertainty: VarianceUncertainty | null,
): Reference {
  const covariance = solved.phi.map((value) => value * solved.residual);
  const plain = { covariance, ofVariances: null, warnings: [] };
  if (denominator === 'containment') {
    const strata = containmentStrata(x, design.kept, units);
    return { ...plain, dfMethod: { kind: 'containment', strata } };
  }
  if (denominator === 'asymptotic') return { ...plain, dfMethod: { kind: 'asymptotic' } };
  if (uncertainty === null) {
    return { ...plain, dfMethod: { kind: 'asymptotic' }, warnings: [singularWarning] };
  }
  const corrected = isPositive(uncertainty.covariance, design.rank);
  return {
    covariance: corrected ? uncertainty.covariance : covariance,
    ofVariances: uncertainty.ofVariances,
    dfMethod: { kind: denominator, ...uncertainty },
    warnings: corrected ? [] : [uncorrectedWarning],
  };
}

/** Fixed part plus predicted effects. */
function fittedOf(
  x: Matrix,
  kept: Int32Array,
  { beta, effects }: Solved,
  components: readonly RandomColumns[],
  n: number,
): Float64Array {
  const fitted = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    kept.forEach((column, j) => {
      sum += real(x.data, i * x.columns + column) * real(beta, j);
    });
    fitted[i] = sum;
  }
  let column = 0;
  for (const component of components) {
    for (const own of component.columns) addSparse(fitted, 0, real(effects, column++), own);
  }
  return fitted;
}
