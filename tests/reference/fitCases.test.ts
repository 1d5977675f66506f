import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitRequestSchema } from '../../shared-types/fit';
import { fit } from '../../renderer/engine/stats/fit';
import { categoryColumns } from '../../renderer/engine/stats/table';
import { readCsv } from './figures';

// Whole analyses with the figures of another program: tests/reference/fit/*/expected.json, each
// with its source and the calls that made it. Compared by the rules of that collection.
type Json = null | boolean | number | string | Json[] | { [name: string]: Json };
type Fields = { [name: string]: Json };
type Tolerances = Record<string, number | null>;

const folder = new URL('./fit/', import.meta.url);
const read = (path: string): Json =>
  JSON.parse(readFileSync(new URL(path, folder), 'utf8')) as Json;

const isFields = (value: Json | undefined): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Crossed names compare without regard to order or to the sign of crossing. */
const termKey = (name: string): string =>
  name
    .toLowerCase()
    .split(/\s*[:×]\s*/)
    .sort()
    .join('×');

function compare(
  got: Json | undefined,
  want: Json,
  key: string,
  path: string,
  tol: Tolerances,
): string[] {
  if (want === null) return [];
  if (typeof want === 'number') {
    const relative = key in tol ? tol[key] : (tol['default'] ?? 1e-6);
    if (relative === null || relative === undefined) return [];
    const allowed = relative * Math.abs(want) + (key === 'p' ? 1e-12 : 1e-9);
    const ok = typeof got === 'number' && Math.abs(got - want) <= allowed;
    return ok ? [] : [`${path}: got ${JSON.stringify(got)}, expected ${want} (±${relative})`];
  }
  if (typeof want === 'string') {
    const ok = got === want || termKey(String(got)) === termKey(want);
    return ok ? [] : [`${path}: got ${JSON.stringify(got)}, expected ${want}`];
  }
  if (Array.isArray(want)) {
    if (!Array.isArray(got)) return [`${path}: missing`];
    return want.flatMap((item) => {
      if (!isFields(item)) return [`${path}: cannot compare ${JSON.stringify(item)}`];
      const { label, row, rest } = match(got.filter(isFields), item);
      const place = `${path}[${label}]`;
      return row ? compare(row, rest, key, place, tol) : [`${place}: missing`];
    });
  }
  if (!isFields(want) || !isFields(got)) return [`${path}: missing`];
  return Object.keys(want)
    .filter((name) => !['method', 'by', 'of'].includes(name))
    .flatMap((name) => compare(got[name], want[name] ?? null, name, `${path}.${name}`, tol));
}

function match(
  got: Fields[],
  want: Fields,
): { label: string; row: Fields | undefined; rest: Fields } {
  for (const naming of ['term', 'unit'] as const) {
    const name = want[naming];
    if (typeof name !== 'string') continue;
    const rest = Object.fromEntries(Object.entries(want).filter(([key]) => key !== naming));
    const row = got.find((item) => termKey(String(item[naming])) === termKey(name));
    return { label: name, row, rest };
  }
  if ('rows' in want) {
    const joined = (item: Fields): string => termKey((item['of'] as string[]).join('×'));
    const row = got.find(
      (item) =>
        joined(item) === joined(want) &&
        (!want['method'] || item['method'] === want['method']) &&
        JSON.stringify(item['by'] ?? []) === JSON.stringify(want['by'] ?? []),
    );
    return { label: joined(want), row, rest: want };
  }
  if ('a' in want && 'b' in want) {
    const label = `${String(want['a'])} − ${String(want['b'])}`;
    const within = JSON.stringify(want['within']);
    const places = got.filter((item) => JSON.stringify(item['within']) === within);
    const row = places.find((item) => item['a'] === want['a'] && item['b'] === want['b']);
    const turned = places.find((item) => item['a'] === want['b'] && item['b'] === want['a']);
    return { label, row: row ?? (turned ? turnAround(turned) : undefined), rest: want };
  }
  const names = Object.keys(want).filter((name) => typeof want[name] === 'string');
  const row = got.find((item) => names.every((name) => String(item[name]) === want[name]));
  return { label: names.map((name) => String(want[name])).join('×'), row, rest: want };
}

function turnAround(row: Fields): Fields {
  const minus = (name: string): number => -Number(row[name]);
  return {
    ...row,
    a: row['b'] ?? null,
    b: row['a'] ?? null,
    difference: minus('difference'),
    statistic: minus('statistic'),
    lower: minus('upper'),
    upper: minus('lower'),
  };
}

const cases = readdirSync(folder).filter((name) => !name.includes('.'));

describe('published analyses', () => {
  it.each(cases)('%s', (name) => {
    const request = fitRequestSchema.parse(read(`${name}/request.json`));
    const table = readCsv(`fit/${name}/table.csv`, categoryColumns(request));
    const { expected, tolerances } = read(`${name}/expected.json`) as {
      expected: Json;
      tolerances: Tolerances | null;
    };
    const result = JSON.parse(JSON.stringify(fit(request, table))) as Json;
    expect(compare(result, expected, '', 'result', tolerances ?? {})).toEqual([]);
  });
});
