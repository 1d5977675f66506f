import { PLAN_FORMAT, PLAN_VERSION } from '../../../shared-types/plan';
import type { Plan } from '../../../shared-types/plan';
import { planFileSchema } from '../../../shared-types/planFile';
import { OLDEST_VERSION, migrate, migrationSteps } from '../migrations';
import type { RawPlan } from '../migrations';
import { findJsonBreak } from './brokenJson';
import { runsOf, seenFrom } from '../runs';
import { findInconsistency } from './consistency';
import type { Contradiction } from './consistency';
import { findRunFault, fromFile, placeInFile } from './fileForm';
import { findHostile } from './guard';
import { findJsonExcess } from './jsonExcess';
import type { OpenProblem } from './problem';
import { sayFound, sayIssue } from './words';

export type ReadPlan =
  | {
      ok: true;
      plan: Plan;
      /** The older format the file had; null: the current one. */
      migratedFrom: number | null;
    }
  | { ok: false; problem: OpenProblem };

const LIMIT_MB = 50;
const MB = 1024 * 1024;

const refuse = (problem: OpenProblem): ReadPlan => ({ ok: false, problem });

/**
 * Opens the text of a plan file: a whole, sound plan or one named problem. A broken file is never
 * repaired and never half read.
 */
export function readPlan(text: string): ReadPlan {
  if (text.length > LIMIT_MB * MB) {
    return refuse({
      kind: 'tooLarge',
      foundMb: Math.ceil(text.length / MB),
      limitMb: LIMIT_MB,
    });
  }
  // Some editors put a byte order mark in front; it is no part of the plan.
  const body = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (body.trim() === '') return refuse({ kind: 'empty' });

  const excess = findJsonExcess(body);
  if (excess !== null) {
    const expected = 'no more than a plan has';
    return refuse({ kind: 'invalid', path: 'the file', found: excess, expected, more: 0 });
  }
  let parsed: unknown;
  try {
    parsed = JSON.parse(body);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    const place = findJsonBreak(body);
    return refuse({
      kind: 'notJson',
      ...(place ?? { line: 1, column: 1, found: 'unreadable text', expected: 'a plan' }),
    });
  }
  if (!isGroup(parsed)) return refuse({ kind: 'notOurs', found: `it holds ${sayFound(parsed)}` });
  if (parsed['format'] !== PLAN_FORMAT) {
    const format = parsed['format'];
    return refuse({
      kind: 'notOurs',
      found:
        format === undefined
          ? `it has no format name, where "${PLAN_FORMAT}" is expected`
          : `its format is ${sayFound(format)}, where "${PLAN_FORMAT}" is expected`,
    });
  }
  return readVersion(parsed);
}

function readVersion(raw: RawPlan): ReadPlan {
  const version = raw['version'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < OLDEST_VERSION) {
    return refuse({
      kind: 'invalid',
      path: 'version',
      found: sayFound(version),
      expected: `a whole number from ${OLDEST_VERSION} to ${PLAN_VERSION}`,
      more: 0,
    });
  }
  if (version > PLAN_VERSION) {
    return refuse({ kind: 'tooNew', found: version, supported: PLAN_VERSION });
  }
  const hostile = findHostile(raw);
  if (hostile) return refuse({ kind: 'invalid', ...hostile, more: 0 });

  const migrated = migrate(raw, version, PLAN_VERSION, migrationSteps);
  if (!migrated.ok) {
    return refuse({ kind: 'migrationFailed', version: migrated.at, reason: migrated.reason });
  }
  // A place is named as the file that the person has before them has it.
  const placeOf = (place: string): string =>
    migrationSteps
      .filter((step) => migrated.ran.includes(step.from))
      .reduceRight((text, step) => step.placeBefore(text), place);
  const checked = planFileSchema.safeParse(migrated.raw);
  if (!checked.success) {
    const [first] = checked.error.issues;
    if (!first) throw new Error('plan: the schema refused it without an issue; one is expected');
    const { path, found, expected } = sayIssue(first, migrated.raw);
    return refuse({
      kind: 'invalid',
      path: placeOf(path),
      found,
      expected,
      more: checked.error.issues.length - 1,
    });
  }
  const inconsistent = ({ found, expected }: Contradiction, path: string): ReadPlan =>
    refuse({ kind: 'inconsistent', path: placeOf(path), found, expected });
  const fault = findRunFault(checked.data);
  if (fault) return inconsistent(fault, fault.path);
  const plan = fromFile(checked.data);
  for (const [i, { id, grownOn }] of runsOf(plan).entries()) {
    const contradiction = findInconsistency(seenFrom(plan, id));
    if (!contradiction) continue;
    return inconsistent(contradiction, placeInFile(contradiction.path, i, grownOn !== undefined));
  }
  return { ok: true, plan, migratedFrom: version === PLAN_VERSION ? null : version };
}

function isGroup(value: unknown): value is RawPlan {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
