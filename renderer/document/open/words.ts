import type { z } from 'zod';

const SHOWN_LENGTH = 40;

/** `rack.shelves[0].trays[2].widthMm`; keys that are no plain words in quotes. */
export function sayPath(path: readonly PropertyKey[]): string {
  let text = '';
  for (const part of path) {
    if (typeof part === 'number') text += `[${part}]`;
    else if (/^[A-Za-z_][A-Za-z0-9_]*$/.test(String(part))) {
      text += text === '' ? String(part) : `.${String(part)}`;
    } else text += `[${JSON.stringify(String(part))}]`;
  }
  return text === '' ? 'the plan' : text;
}

/** What stands at a path, in a few words: `nothing`, `"high"`, `-3`, `a list of 4`… */
export function sayFound(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'string') {
    const shown = value.length > SHOWN_LENGTH ? `${value.slice(0, SHOWN_LENGTH)}…` : value;
    return JSON.stringify(shown);
  }
  if (typeof value === 'number') {
    return Number.isFinite(value) ? String(value) : 'a number that is not finite';
  }
  if (Array.isArray(value))
    return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'object') return 'a group of values';
  return String(value);
}

export function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = root;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part))
      return undefined;
    value = Reflect.get(value, part);
  }
  return value;
}

const typeWords: Record<string, string> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text',
  boolean: 'true or false',
  object: 'a group of values',
  record: 'a group of values',
  array: 'a list',
  null: 'null',
};

const formatWords: Record<string, string> = {
  date: 'a date such as 2026-03-31',
  datetime: 'a date and time such as 2026-03-31T14:05:00+02:00',
};

const listWords = (values: readonly unknown[]) =>
  values.length === 1
    ? sayFound(values[0])
    : `one of ${values.map((value) => sayFound(value)).join(', ')}`;

function sayLimit(issue: z.core.$ZodIssueTooBig | z.core.$ZodIssueTooSmall): string {
  const big = issue.code === 'too_big';
  const limit = String(big ? issue.maximum : issue.minimum);
  const side = big ? 'at most' : 'at least';
  if (issue.origin === 'string') {
    return `${side} ${limit} ${limit === '1' ? 'character' : 'characters'}`;
  }
  if (issue.origin === 'array') return `${side} ${limit} ${limit === '1' ? 'entry' : 'entries'}`;
  if (issue.inclusive === false) return `a number ${big ? 'below' : 'above'} ${limit}`;
  return `a number of ${side} ${limit}`;
}

/** What the schema wants at the place of an issue, in words. */
function sayExpected(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return typeWords[issue.expected] ?? issue.expected;
    case 'too_big':
    case 'too_small':
      return sayLimit(issue);
    case 'invalid_value':
      return listWords(issue.values);
    case 'invalid_format':
      return formatWords[issue.format] ?? issue.message;
    case 'unrecognized_keys':
      return 'only names that the format knows';
    case 'invalid_key':
      return issue.issues[0] ? sayExpected(issue.issues[0]) : 'another name';
    case 'invalid_union':
      return 'options' in issue && Array.isArray(issue.options)
        ? listWords(issue.options)
        : issue.message;
    default:
      return issue.message;
  }
}

/** A schema's issue as path, found and expected, against the value that was checked. */
export function sayIssue(
  issue: z.core.$ZodIssue,
  root: unknown,
  rootPath: readonly PropertyKey[] = [],
): { path: string; found: string; expected: string } {
  const path = [...rootPath, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    return {
      path: sayPath(path),
      found: `the unknown name ${issue.keys.map((key) => sayFound(key)).join(', ')}`,
      expected: sayExpected(issue),
    };
  }
  if (issue.code === 'invalid_key') {
    const name = sayFound(String(issue.path.at(-1) ?? ''));
    return {
      path: sayPath(path.slice(0, -1)),
      found: `the name ${name}`,
      expected: sayExpected(issue),
    };
  }
  return {
    path: sayPath(path),
    found: sayFound(valueAt(root, issue.path)),
    expected: sayExpected(issue),
  };
}
