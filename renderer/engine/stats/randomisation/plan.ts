import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import { combineColumns, sameNames } from '../design';
import type { Design } from '../design';
import { Refusal } from '../../../words';
import { num, whole } from '../../entry';

type RandomisationRequest = NonNullable<FitRequest['redraw']>;

/** What a randomisation test permutes: the labels of units, within groups. */
export interface RandomisationPlan {
  /** Index of the tested term in the design. */
  readonly term: number;
  /** Treatments that are whole on every unit, whose labels move. */
  readonly moved: readonly string[];
  /** By label, the level index of each moved treatment. */
  readonly labels: readonly (readonly number[])[];
  /** Rows of the design in each unit. */
  readonly unitRows: readonly Int32Array[];
  /** Units of each group. */
  readonly groups: readonly Int32Array[];
  /** Label of each unit as drawn. */
  readonly observed: Int32Array;
}

/**
 * Reads units, groups and labels. Throws where no treatment is whole on the units, or where the
 * term does not depend on a treatment that moves.
 */
export function planRandomisation(
  request: FitRequest,
  asked: RandomisationRequest,
  table: DataTable,
  design: Design,
): RandomisationPlan {
  const n = design.rowIndex.length;
  const group = combineColumns(table, asked.within, design.rowIndex);
  // Units are told apart within their group, as pots are that count from 1 in every block.
  const columns = [...new Set([...asked.within, ...asked.unit])];
  const unit =
    asked.unit.length > 0 ? combineColumns(table, columns, design.rowIndex) : singleRows(n);
  const unitRows: number[][] = Array.from({ length: unit.levels }, () => []);
  unit.codes.forEach((code, i) => unitRows[code]?.push(i));
  // In the order of the table, so that what units are called does not change what is drawn.
  unitRows.sort((a, b) => num(a, 0) - num(b, 0));

  const moved = request.treatments.filter((name) => {
    const codes = design.factors.get(name)?.codes;
    return unitRows.every((rows) => rows.every((i) => codes?.[i] === codes?.[num(rows, 0)]));
  });
  if (moved.length === 0) {
    throw new Refusal(
      `redraw: no treatment is the same on all rows of a ${unit.unit || 'unit'}; expected a unit ` +
        'that the treatments were drawn for',
    );
  }
  const term = findTerm(request, asked, design);
  if (!design.terms[term]?.factors.some((name) => moved.includes(name))) {
    throw new Refusal(
      `redraw: ${design.terms[term]?.name ?? ''} varies within units of ${unit.unit}; a redraw of ` +
        `these units tells about ${moved.join(', ')} alone`,
    );
  }
  return {
    term,
    moved,
    ...labelsOf(design, moved, unitRows),
    unitRows: unitRows.map((rows) => Int32Array.from(rows)),
    groups: gather(unitRows, (rows) => whole(group.codes, num(rows, 0))),
  };
}

/** The numbers of units by the group that each lies in. */
function gather(
  unitRows: readonly (readonly number[])[],
  homeOf: (rows: readonly number[]) => number,
): Int32Array[] {
  const homes = new Map<number, number[]>();
  unitRows.forEach((rows, u) => {
    const home = homeOf(rows);
    const units = homes.get(home);
    if (units) units.push(u);
    else homes.set(home, [u]);
  });
  return [...homes.values()].map((units) => Int32Array.from(units));
}

/** The combinations of levels that units have, in the order in which they come, and which has which. */
function labelsOf(
  design: Design,
  moved: readonly string[],
  unitRows: readonly (readonly number[])[],
): Pick<RandomisationPlan, 'labels' | 'observed'> {
  const labels: number[][] = [];
  const index = new Map<string, number>();
  const observed = Int32Array.from(unitRows, (rows) => {
    const levels = moved.map((name) => design.factors.get(name)?.codes[num(rows, 0)] ?? 0);
    const key = levels.join(' ');
    const known = index.get(key) ?? labels.length;
    if (known === labels.length) {
      labels.push(levels);
      index.set(key, known);
    }
    return known;
  });
  return { labels, observed };
}

function singleRows(n: number): { unit: string; codes: Int32Array; levels: number } {
  return { unit: '', codes: Int32Array.from({ length: n }, (_, i) => i), levels: n };
}

function findTerm(request: FitRequest, asked: RandomisationRequest, design: Design): number {
  const wanted = asked.term ?? request.treatments[0];
  if (wanted === undefined) {
    throw new Refusal('redraw: the request has no treatments; expected at least one to redraw');
  }
  const parts = wanted.split(/\s*[×:]\s*/);
  const found = design.terms.findIndex(
    (term) =>
      term.name === wanted ||
      (parts.length > 1 && sameNames([...term.factors, ...term.covariates], parts)),
  );
  if (found >= 0) return found;
  throw new Refusal(
    `redraw: found the term "${wanted}"; expected one of ` +
      design.terms.map((term) => term.name).join(', '),
  );
}
