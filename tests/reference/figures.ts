import { readFileSync } from 'node:fs';
import Papa from 'papaparse';
import { expect } from 'vitest';
import type { DataTable } from '../../shared-types/fit';
import { tableFromCsvRows } from '../../renderer/tables';

/** A row of a recorded table: short names as in tests/reference/README.md. */
export type Row = Record<string, number | string | null>;

export interface Figure {
  call: string;
  with?: string[];
  note?: string;
  value: unknown;
}

export interface FigureSet {
  file: string;
  setup: string[];
  figures: Record<string, Figure>;
}

export function readSets(name: string): Record<string, FigureSet> {
  const url = new URL(`./expected/${name}.json`, import.meta.url);
  return (JSON.parse(readFileSync(url, 'utf8')) as { sets: Record<string, FigureSet> }).sets;
}

export function figure<T>(sets: Record<string, FigureSet>, set: string, name: string): T {
  const found = sets[set]?.figures[name];
  if (!found) throw new Error(`no figure ${name} in ${set}`);
  return found.value as T;
}

export function readCsv(path: string, categories: Iterable<string> = []): DataTable {
  const text = readFileSync(new URL(`./${path}`, import.meta.url), 'utf8');
  const rows = Papa.parse<string[]>(text.trim(), { skipEmptyLines: true }).data;
  return tableFromCsvRows(rows, new Set(categories));
}

/** Relative agreement, with a floor for figures that are zero but for rounding. */
export function expectClose(
  got: unknown,
  want: number | string | null | undefined,
  relative: number,
  place: string,
  floor = 1e-12,
): void {
  if (typeof want !== 'number' || typeof got !== 'number') {
    throw new Error(`${place}: got ${String(got)}, recorded ${String(want)}`);
  }
  const allowed = relative * Math.abs(want) + floor;
  if (!(Math.abs(got - want) <= allowed)) {
    expect.fail(`${place}: got ${got}, recorded ${want}, allowed ±${allowed}`);
  }
}
