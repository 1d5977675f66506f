import type { PowerRequest, PowerResult, PowerTerm } from '../../../../shared-types/power';
import { allTerms, flatMeans, meanSquareOfEffects, type FactorSize, type Term } from './effects';
import { criticalF, detectableNoncentrality, powerOfTerm } from './term';
import { Refusal } from '../../../words';
import { num } from '../../entry';

const MOST_UNITS_PER_CELL = 1_000_000;
const MOST_CELLS = 10_000;

interface Sized {
  unitsPerCell: number;
  blocks: number;
  dfError: number;
}

function size(request: PowerRequest, cells: number, unitsPerCell: number): Sized {
  const blocks = request.blocks === 'one-per-replicate' ? unitsPerCell : request.blocks;
  return { unitsPerCell, blocks, dfError: cells * unitsPerCell - cells - (blocks - 1) };
}

function findTerm(
  where: string,
  name: string | string[],
  terms: Term[],
  factors: FactorSize[],
): Term {
  const single = typeof name === 'string' && factors.some((factor) => factor.name === name);
  const names =
    typeof name !== 'string' ? name : single ? [name] : name.split('×').map((part) => part.trim());
  const positions = names.map((one) => {
    const position = factors.findIndex((factor) => factor.name === one);
    if (position < 0) {
      const known = factors.map((factor) => factor.name).join(', ');
      throw new Refusal(`${where}: no factor ${one}; expected one of ${known}`);
    }
    return position;
  });
  const found = terms.find(
    (term) =>
      term.factors.length === new Set(positions).size &&
      term.factors.length === positions.length &&
      positions.every((position) => term.factors.includes(position)),
  );
  if (!found) {
    const known = terms.map((term) => term.name).join(', ');
    throw new Refusal(`${where}: ${names.join(' × ')}; expected one of ${known}`);
  }
  return found;
}

/** Least units per cell with which the term reaches the power; power grows with their number. */
function leastUnits(request: PowerRequest, cells: number, term: Term, f: number): number {
  const target = request.power ?? 0.8;
  const enough = (unitsPerCell: number): boolean => {
    const { dfError } = size(request, cells, unitsPerCell);
    if (dfError < 1) return false;
    const noncentrality = cells * unitsPerCell * f * f;
    return (
      powerOfTerm({ dfEffect: term.df, dfError, noncentrality, alpha: request.alpha }) >= target
    );
  };
  let high = 2;
  while (!enough(high)) {
    high *= 2;
    if (high > MOST_UNITS_PER_CELL) {
      throw new Refusal(
        `power: ${term.name} with f = ${f} would take more than ${MOST_UNITS_PER_CELL} units per cell; expected a larger effect`,
      );
    }
  }
  let low = high === 2 ? 0 : high / 2;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function notesOn(request: PowerRequest, { unitsPerCell, blocks }: Sized): string[] {
  if (blocks > unitsPerCell) {
    return [
      `${blocks} blocks cannot each hold every treatment with ${unitsPerCell} units per cell; the figures assume complete blocks and are too hopeful for incomplete ones.`,
    ];
  }
  if (request.solve === 'units' && unitsPerCell % blocks !== 0) {
    const even = Math.ceil(unitsPerCell / blocks) * blocks;
    return [
      `${unitsPerCell} units per cell do not share out evenly over ${blocks} blocks; ${even} do.`,
    ];
  }
  return [];
}

/**
 * Power of a factorial trial with equal numbers, each main effect and interaction on its own:
 * noncentral F with λ = N f² on N − cells − (blocks − 1) degrees of freedom for error (Cohen 1988,
 * Statistical Power Analysis, chapter 8; f with divisor: number of cells). Blocks take degrees of
 * freedom only: what they gain must already be in `sd`.
 *
 * - solve `power`: the power of every term with the given units;
 * - solve `units`: the least whole number of units per cell with which every term asked for
 *   reaches `power`;
 * - solve `difference`: per term the smallest f, and for factors the smallest difference between
 *   two extreme levels (the others midway), found with `power`.
 *
 * Throws where the means do not fit the treatments, a named factor does not exist, or no degrees
 * of freedom are left for error.
 */
export function power(request: PowerRequest): PowerResult {
  const factors = Object.entries(request.treatments).map(([name, levels]) => ({ name, levels }));
  const cells = factors.reduce((product, factor) => product * factor.levels, 1);
  if (factors.length === 0 || cells > MOST_CELLS) {
    throw new Refusal(
      `treatments: ${factors.length} factors, ${cells} combinations; expected 1 to ${MOST_CELLS} combinations`,
    );
  }
  const { terms, fOf } = stated(request, factors);
  const inQuestion =
    request.for?.map((name) => findTerm('for', name, terms, factors)) ??
    terms.filter((term) => request.solve === 'difference' || (fOf.get(term) ?? 0) > 0);
  const needed = request.solve === 'units' ? unitsOf(request, cells, inQuestion, fOf) : null;
  const unitsPerCell = needed ? Math.max(...needed.values()) : request.unitsPerCell;
  if (unitsPerCell === undefined) throw new Refusal('unitsPerCell: missing; expected a number');
  const sized = size(request, cells, unitsPerCell);
  const { dfError, blocks } = sized;
  if (dfError < 1) {
    throw new Refusal(
      `unitsPerCell: ${unitsPerCell} with ${cells} treatments and ${blocks === 1 ? '1 block' : `${blocks} blocks`} leaves ${dfError} degrees of freedom for error; expected one or more`,
    );
  }
  const units = cells * unitsPerCell;
  const rows = terms.map((term) => {
    const unitsNeeded = needed?.get(term) ?? null;
    return rowOf(request, factors, term, { units, dfError, f: fOf.get(term) ?? 0, unitsNeeded });
  });
  const inRows = (inQuestion.length > 0 ? inQuestion : terms).map((term) => term.name);
  return {
    solve: request.solve,
    alpha: request.alpha,
    cells,
    unitsPerCell,
    units,
    blocks,
    dfError,
    power: Math.min(...rows.filter((row) => inRows.includes(row.term)).map((row) => row.power)),
    terms: rows,
    notes: notesOn(request, sized),
  };
}

/** The terms to tell of, and f of each that the request says something about. */
function stated(
  request: PowerRequest,
  factors: FactorSize[],
): { terms: Term[]; fOf: ReadonlyMap<Term, number> } {
  const terms = allTerms(factors);
  if (request.solve === 'difference') return { terms, fOf: new Map() };
  if (request.effect) {
    const only = findTerm('effect.of', request.effect.of, terms, factors);
    return { terms: [only], fOf: new Map([[only, request.effect.f]]) };
  }
  if (request.means) {
    const means = flatMeans(request.means, factors);
    const sd = request.sd ?? 1;
    const f = (term: Term) => Math.sqrt(meanSquareOfEffects(means, factors, term)) / sd;
    return { terms, fOf: new Map(terms.map((term) => [term, f(term)])) };
  }
  throw new Refusal('power: neither means nor effect; expected one of them');
}

/** Least units per cell of each term in question. */
function unitsOf(
  request: PowerRequest,
  cells: number,
  inQuestion: readonly Term[],
  fOf: ReadonlyMap<Term, number>,
): ReadonlyMap<Term, number> {
  const needed = new Map(
    inQuestion.map((term) => {
      const f = fOf.get(term) ?? 0;
      if (!(f > 0)) throw new Refusal(`power: ${term.name} has no effect; expected unequal means`);
      return [term, leastUnits(request, cells, term, f)];
    }),
  );
  if (needed.size === 0) throw new Refusal('means: all equal; expected a difference to look for');
  return needed;
}

/** What is found of one term with so many units in all. */
function rowOf(
  { solve, alpha, power: target = 0.8, sd = 1 }: PowerRequest,
  factors: readonly FactorSize[],
  term: Term,
  {
    units,
    dfError,
    f,
    unitsNeeded,
  }: { units: number; f: number } & Pick<PowerTerm, 'dfError' | 'unitsNeeded'>,
): PowerTerm {
  const stratum = { dfEffect: term.df, dfError, alpha };
  const detect = solve === 'difference';
  const noncentrality = detect
    ? detectableNoncentrality({ ...stratum, power: target })
    : units * f ** 2;
  const factor = term.factors.length === 1 ? factors[num(term.factors, 0)] : undefined;
  return {
    term: term.name,
    of: term.factors.map((position) => factors[position]?.name ?? ''),
    dfEffect: term.df,
    dfError,
    f: Math.sqrt(noncentrality / units),
    noncentrality,
    criticalF: criticalF(stratum),
    power: powerOfTerm({ ...stratum, noncentrality }),
    unitsNeeded,
    // Two levels ± d/2 from the mean: λ = (units per level) d²/2 / sd².
    difference:
      detect && factor ? sd * Math.sqrt((2 * noncentrality * factor.levels) / units) : null,
  };
}
