import type { Plan } from '../../../../shared-types/plan';
import { hasSeveralRuns, runNumber } from '../../runs';

/** What a scanner may be set to send first: the kind of code it has read, by ISO/IEC 15424. */
const SYMBOLOGY = /^\s*\][A-Za-z][0-9A-Za-z]/;

/** `R2-` before a pot's code, which begins with its shelf. */
const RUN = /^R(\d{1,2})[\s\-–_.](?=\s*\d)/i;

/** A code as a scanner sends it, without its prefix. */
export const withoutSymbology = (scanned: string): string => scanned.replace(SYMBOLOGY, '').trim();

/** The code to scan of a pot: with its run where the trial is grown more than once. */
export const codeToScan = (plan: Plan, potCode: string): string =>
  hasSeveralRuns(plan) ? `R${runNumber(plan)}-${potCode}` : potCode;

/** The number of the run that a code carries; null: none. */
export function runInCode(scanned: string): number | null {
  const [, number] = RUN.exec(withoutSymbology(scanned)) ?? [];
  return number === undefined ? null : Number(number);
}

/** A pot's code without the run, where it carries this one; a code of another run stays as it is. */
export function codeWithoutRun(written: string, run: number): string {
  return runInCode(written) === run ? written.replace(RUN, '').trim() : written;
}

/** Why no pot has a code: it may carry another run. */
export const unknownCode = (written: string): 'unknown-code' | 'code-of-other-run' =>
  runInCode(written) === null ? 'unknown-code' : 'code-of-other-run';
