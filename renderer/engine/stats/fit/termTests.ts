import { placeTraits, type DataTable, type FitRequest } from '../../../../shared-types/fit';
import { buildDesign, randomUnits } from '../design';
import type { Design } from '../design';
import { spaceOf } from '../linear';
import type { Allocation } from '../randomisation';
import { distinctUnits, unitTests } from '../units';
import { analyse } from './analyse';
import { requireResidual } from './linearModel';
import { mixedTests } from './mixedModel';
import { isRandomised, randomisedTests, type UntreatedBy } from './randomised';

/** The test of one term, whatever the response to the layout is. */
export interface LayoutTest {
  readonly term: string;
  /** The unit by which it is judged, `residual` for single rows; null where a likelihood judges all. */
  readonly stratum: string | null;
  /** p of a response on the scale of the analysis, one value a row of the design; null: no test. */
  p(response: Float64Array): number | null;
  /** Whether that p is below `alpha`, for less work; null: no test. */
  finds(response: Float64Array, alpha: number): boolean | null;
}

/**
 * The tests of `fit` for many responses to one layout: what rests on the layout alone is computed
 * once, and of each response only what its test needs. Throws as `fit` does. `untreatedBy`: in place of
 * the covariance that is estimated exactly from each response.
 */
export function layoutTests(
  request: FitRequest,
  table: DataTable,
  allocation: Allocation | null,
  untreatedBy: UntreatedBy | null = null,
): { readonly rowIndex: Int32Array; readonly tests: readonly LayoutTest[] } {
  const bare: FitRequest = {
    ...request,
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
    redraw: null,
  };
  const design = buildDesign(bare, table);
  return {
    rowIndex: design.rowIndex,
    tests: testsOf(bare, table, design, allocation, untreatedBy),
  };
}

function testsOf(
  request: FitRequest,
  table: DataTable,
  design: Design,
  allocation: Allocation | null,
  untreatedBy: UntreatedBy | null,
): LayoutTest[] {
  const { position } = request;
  const placed = position !== null && !placeTraits[position.model].isFixed;
  const byUnits =
    request.denominator === 'units' ||
    (request.randomUnits.length === 0 && (!placed || allocation !== null));
  if (request.counts !== null || request.exactStrata || !byUnits) {
    return wholeTests(request, table, design);
  }
  requireResidual(design, design.x.rows - spaceOf(design.x).rank);
  const { kept } = distinctUnits(
    // Rows and columns of a position model say nothing about what falls on whole units.
    randomUnits({ ...request, position: null }, table, design.rowIndex),
  );
  const units = unitTests(design, kept, request.tests);
  const plain = lastOf(units.at);
  const onRows = placed
    ? lazy(() => rowTests(request, table, design, allocation, untreatedBy))
    : null;
  return design.terms.map(({ name }, i) => {
    const unit = units.errors[i]?.unit ?? null;
    const stratum = unit?.unit ?? 'residual';
    if (unit === null && onRows) {
      return {
        term: name,
        stratum,
        p: (response) => onRows().p(response, i),
        finds: (response, alpha) => onRows().finds(response, i, alpha),
      };
    }
    const p = (response: Float64Array) => plain(response).test(i).p;
    return { term: name, stratum, p, finds: (response, alpha) => isBelow(p(response), alpha) };
  });
}

function isBelow(p: number | null, alpha: number): boolean | null {
  return p === null ? null : p < alpha;
}

interface RowTests {
  p(response: Float64Array, term: number): number | null;
  finds(response: Float64Array, term: number, alpha: number): boolean | null;
}

/** Tests of single rows where place enters by a covariance or at random. */
function rowTests(
  request: FitRequest,
  table: DataTable,
  design: Design,
  allocation: Allocation | null,
  untreatedBy: UntreatedBy | null,
): RowTests {
  const mixed = lazy(() =>
    lastOf(mixedTests({ ...request, denominator: 'kenward-roger' }, table, design)),
  );
  const mixedP = (response: Float64Array, term: number) => mixed()(response)(term);
  if (!allocation || !isRandomised(request, design)) {
    return { p: mixedP, finds: (response, term, alpha) => isBelow(mixedP(response, term), alpha) };
  }
  const randomised = lastOf(randomisedTests(request, table, design, allocation, untreatedBy));
  return {
    p: (response, term) => randomised(response).p(term) ?? mixedP(response, term),
    finds: (response, term, alpha) =>
      randomised(response).finds(term, alpha) ?? isBelow(mixedP(response, term), alpha),
  };
}

/** Any other model: a whole fit of each response. */
function wholeTests(request: FitRequest, table: DataTable, design: Design): LayoutTest[] {
  const fitted = lastOf((y: Float64Array) => analyse(request, table, { ...design, y }).terms);
  return design.terms.map(({ name }, i) => {
    const p = (response: Float64Array) => fitted(response)[i]?.p ?? null;
    return {
      term: name,
      stratum: null,
      p,
      finds: (response, alpha) => isBelow(p(response), alpha),
    };
  });
}

function lazy<T>(make: () => T): () => T {
  let made: { value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

/** Keeps the answer for the last response: its terms are asked for one after another. */
function lastOf<T>(of: (response: Float64Array) => T): (response: Float64Array) => T {
  let last: { response: Float64Array; value: T } | null = null;
  return (response) => {
    if (last?.response !== response) last = { response, value: of(response) };
    return last.value;
  };
}
