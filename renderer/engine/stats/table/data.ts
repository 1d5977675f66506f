import type { DataTable, FitRequest } from '../../../../shared-types/fit';
import { cellNumber, isMissing } from '../../../tables/cells';
import { column, readCategory, readNumbers } from './columns';
import type { Category } from './columns';
import { scaleRules } from './scale';
import { figures, Refusal } from '../../../words';
import { whole } from '../../entry';

/** The rows of a table that enter a fit, checked. */
export interface TrialData {
  /** Rows that enter. */
  readonly n: number;
  /** Rows left out because their response is missing. */
  readonly dropped: number;
  /** Index in the table of each row that enters. */
  readonly rowIndex: Int32Array;
  /** Response on the scale of the request. */
  readonly response: Float64Array;
  /** Treatments and fixed blocks by column name. */
  readonly factors: ReadonlyMap<string, Category>;
  readonly covariates: ReadonlyMap<string, Float64Array>;
}

/**
 * Reads the columns that the request names. A row without a response is left out; a missing
 * treatment, block or covariate in a row that has one is an error naming column and row, as is
 * any value that its role does not allow.
 */
export function readTrialData(request: FitRequest, table: DataTable): TrialData {
  checkRoles(request);
  const rowIndex = rowsWithResponse(request, table);
  const factors = new Map<string, Category>();
  for (const name of request.fixedBlocks) {
    factors.set(name, readFactor(table, name, rowIndex, 'block'));
  }
  for (const name of request.treatments) {
    factors.set(name, readFactor(table, name, rowIndex, 'treatment'));
  }
  const covariates = new Map(
    request.covariates.map((name) => [name, readNumbers(table, name, rowIndex, 'covariate')]),
  );
  for (const [name, values] of covariates) checkMagnitude(name, values);
  return {
    n: rowIndex.length,
    dropped: table.rowCount - rowIndex.length,
    rowIndex,
    response: readResponse(request, table, rowIndex),
    factors,
    covariates,
  };
}

function rowsWithResponse(request: FitRequest, table: DataTable): Int32Array {
  const cells = column(table, request.response);
  const rows: number[] = [];
  cells.forEach((cell, row) => {
    if (isMissing(cell)) return;
    if (cellNumber(cell) === null) {
      throw new Refusal(
        `column "${request.response}", row ${row + 1}: found "${cell}" as response; ` +
          'a finite number is expected',
      );
    }
    rows.push(row);
  });
  if (rows.length < 2) {
    throw new Refusal(
      `column "${request.response}": found ${rows.length} rows with a response; ` +
        'at least 2 are expected',
    );
  }
  return Int32Array.from(rows);
}

function readResponse(request: FitRequest, table: DataTable, rows: Int32Array): Float64Array {
  const raw = readNumbers(table, request.response, rows, 'response');
  if (request.counts !== null && request.scale !== 'identity') {
    throw new Refusal(
      `scale: found ${request.scale} together with counts; a count is modelled on its own scale, ` +
        'identity is expected',
    );
  }
  checkMagnitude(request.response, raw);
  const rule = scaleRules[request.scale];
  return raw.map((value, i) => {
    const place = `column "${request.response}", row ${whole(rows, i) + 1}`;
    if (!rule.accepts(value)) {
      throw new Refusal(
        `${place}: found ${value}; the scale ${request.scale} needs ${rule.domain}`,
      );
    }
    if (request.counts !== null && (value < 0 || !Number.isInteger(value))) {
      throw new Refusal(`${place}: found ${value}; a count is a whole number not below 0`);
    }
    return rule.apply(value);
  });
}

/** Squares and their products stay within what numbers of double precision can hold. */
const LARGEST = 1e60;

function checkMagnitude(name: string, values: Float64Array): void {
  const largest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (largest === 0 || (largest <= LARGEST && largest >= 1 / LARGEST)) return;
  throw new Refusal(
    `column "${name}": found values up to ${figures(largest, 3)} in size; expected between ` +
      `1e-60 and 1e60, in another unit if need be`,
  );
}

function readFactor(table: DataTable, name: string, rows: Int32Array, role: string): Category {
  const factor = readCategory(table, name, rows, role);
  if (role === 'treatment' && factor.levels.length < 2) {
    throw new Refusal(
      `column "${name}": found the single ${role} level "${factor.levels[0] ?? ''}" among the ` +
        'rows with a response; at least 2 levels are expected',
    );
  }
  return factor;
}

/** Each column has one place in the model; a column in two would be counted twice. */
function checkRoles(request: FitRequest): void {
  const roles = new Map<string, string>([[request.response, 'response']]);
  const take = (names: readonly string[], role: string): void => {
    for (const name of names) {
      const held = roles.get(name);
      if (held !== undefined) {
        throw new Refusal(
          `column "${name}": named as ${held} and as ${role}; one role is expected`,
        );
      }
      roles.set(name, role);
    }
  };
  take(request.fixedBlocks, 'fixed block');
  take(request.covariates, 'covariate');
  take(request.treatments, 'treatment');
  take(request.offset === null ? [] : [request.offset], 'offset');
}
