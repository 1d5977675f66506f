import { readdir } from 'node:fs/promises';
import type { ZodError, ZodType } from 'zod';
import type { Plan } from '../../shared-types/plan';
import { readPlan, sayProblem } from '../../renderer/document/open';
import { findJsonBreak } from '../../renderer/document/open/brokenJson';
import { findJsonExcess } from '../../renderer/document/open/jsonExcess';
import { sayIssue } from '../../renderer/document/open/words';
import { parseDelimited } from '../../renderer/tables';
import { readText } from '../services/files/readText';
import { BatchError } from './batchError';
import { isFileTrouble } from '../services/files/fileTrouble';

/** The plan in a file. Throws a BatchError where it is no plan that can be opened. */
export async function readPlanFile(path: string): Promise<Plan> {
  const read = readPlan(await readFileText(path, 'a plan file'));
  if (read.ok) return read.plan;
  const { problem } = read;
  if (problem.kind === 'invalid' || problem.kind === 'inconsistent') {
    throw new BatchError(
      `${path}, ${problem.path}`,
      `found ${problem.found}`,
      `expected ${problem.expected}`,
    );
  }
  if (problem.kind === 'notJson') {
    throw notJson(path, problem);
  }
  throw new BatchError(path, sayProblem(problem).replace(/\.$/, ''), 'a plan file is expected');
}

/** The file's JSON, checked against a schema; the first mistake in it is named with its path. */
export async function readJson<T>(path: string, schema: ZodType<T>, what: string): Promise<T> {
  return checked(path, parseJson(path, await readFileText(path, what)), schema);
}

/** The JSON in a text; `where` names the text in the message. */
export function parseJson(where: string, text: string): unknown {
  const excess = findJsonExcess(text);
  if (excess !== null) throw new BatchError(where, `found ${excess}`, 'expected far less');
  try {
    return JSON.parse(text);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    throw notJson(
      where,
      findJsonBreak(text) ?? { line: 1, column: 1, found: 'unreadable text', expected: 'JSON' },
    );
  }
}

/** A value checked against a schema; `where` names the value in the message. */
export function checked<T>(where: string, value: unknown, schema: ZodType<T>): T {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  throw schemaTrouble(where, result.error, value);
}

/** The rows of a delimited file, header first, as they stand: still guarded. */
export async function readCsvRows(path: string): Promise<string[][]> {
  const what = 'a table in CSV with a header line';
  const text = await readFileText(path, what);
  const parsed = parseDelimited(text, { raw: true });
  if (!parsed.ok) {
    const where = parsed.line === null ? path : `${path}, line ${parsed.line}`;
    throw new BatchError(where, parsed.problem.replace(/\.$/, ''), `${what} is expected`);
  }
  if (parsed.lines.length === 0) throw new BatchError(path, 'is empty', `${what} is expected`);
  return parsed.lines.map(({ cells }) => cells);
}

/**
 * Names of the tables in a folder that is read whole, in the order of their characters' codes,
 * which is the same on every machine. Throws the file system's error.
 */
export async function tablesIn(folder: string): Promise<string[]> {
  return (await readdir(folder)).filter((name) => name.endsWith('.csv')).sort();
}

/** The text of a file in UTF-8. */
export async function readFileText(path: string, what: string): Promise<string> {
  try {
    return await readText(path);
  } catch (error) {
    throw unreadable(path, error, `${what} is expected`);
  }
}

/** Why a file cannot be read. */
export function unreadable(path: string, error: unknown, expected: string): BatchError {
  if (!isFileTrouble(error)) throw error;
  // Node takes names as UTF-8, and puts this sign where one is not.
  const isGarbled = path.includes('\uFFFD');
  const why = error.message.replace(`${path}: `, '');
  const found = isGarbled ? `${why}: its name is not in UTF-8, another name is needed` : why;
  return new BatchError(path.trim() === '' ? `"${path}"` : path, found, expected);
}

function notJson(
  where: string,
  place: { line: number; column: number; found: string; expected: string },
): BatchError {
  return new BatchError(
    `${where}, line ${place.line}, column ${place.column}`,
    `found ${place.found}`,
    `expected ${place.expected}`,
  );
}

type Issue = ZodError['issues'][number];

function schemaTrouble(where: string, error: ZodError, value: unknown): BatchError {
  const [first] = error.issues;
  if (!first) throw new TypeError(`${where}: the schema refused it without an issue`);
  const issue = deepest(first);
  const { path, found, expected } = sayIssue(issue, value);
  const place = issue.path.length === 0 ? where : `${where}, ${path}`;
  if (issue.code === 'custom') {
    // A rule between several values says itself what it expects, and often what it found.
    const [said, wanted] = issue.message.split(/; (.*)/s, 2);
    if (said !== undefined && wanted !== undefined) return new BatchError(place, said, wanted);
    return new BatchError(place, `found ${found}`, issue.message);
  }
  return new BatchError(place, `found ${found}`, `expected ${choices(issue, value) ?? expected}`);
}

/** Of the ways in which a value misses a choice of forms, the one that came furthest says most. */
function deepest(issue: Issue): Issue {
  if (issue.code !== 'invalid_union') return issue;
  const [inner] = issue.errors
    .flatMap((issues) => issues.slice(0, 1))
    .map(deepest)
    .sort((a, b) => b.path.length - a.path.length);
  if (!inner || inner.path.length === 0) return issue;
  return deepest({ ...inner, path: [...issue.path, ...inner.path] });
}

function choices(issue: Issue, value: unknown): string | null {
  if (issue.code !== 'invalid_union' || issue.errors.length === 0) return null;
  const forms = issue.errors.flatMap((issues) => issues.slice(0, 1));
  return forms.map((form) => sayIssue(form, value).expected).join(' or ');
}
