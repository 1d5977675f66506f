import { differenceShown, differenceUnit, isRatio, type Findings } from '../../engine/findings';
import { formatP, percentOf, said, saidDf, saidRange } from '../../words';

/** A cell as it is read, and as it goes into a file of numbers. */
export interface Cell {
  text: string;
  value: string | number | null;
  strong?: boolean;
  /** Both ends of an interval; `value` is then its words. */
  ends?: readonly [number, number];
  /** The pot it speaks of, by id. */
  potId?: string;
}

/** One table of the findings, the same on screen, in the report and in a file. */
export interface FindingsTable {
  name: string;
  caption: string;
  columns: { head: string; unit?: string; numeric?: boolean }[];
  rows: Cell[][];
  /** Row to be set apart, counted from 0. */
  marked?: number;
}

export const words = (text: string): Cell => ({ text, value: text });

export function num(value: number | null | undefined, significant = 3): Cell {
  if (value === null || value === undefined || !Number.isFinite(value)) {
    return { text: '–', value: null };
  }
  return { text: said(value, '', significant), value };
}

export const p = (value: number | null | undefined): Cell =>
  value === null || value === undefined
    ? { text: '–', value: null }
    : { text: formatP(value), value };

export const df = (value: number | null): Cell => ({
  text: value === null ? '–' : saidDf(value),
  value,
});

export const range = (lower: number, upper: number): Cell => ({
  text: saidRange(lower, upper),
  value: saidRange(lower, upper),
  ends: [lower, upper],
});

/** Differences, or ratios where the model is one of logarithms, as they are shown. */
export function shown(findings: Findings) {
  const show = (difference: number) => differenceShown(findings, difference);
  const ratio = isRatio(findings.scale);
  return {
    head: ratio ? 'Ratio' : 'Difference',
    many: ratio ? 'Ratios' : 'Differences',
    unit: ratio ? '' : `, ${differenceUnit(findings)}`,
    num: (difference: number) => num(show(difference)),
    range: (lower: number, upper: number) => range(show(lower), show(upper)),
  };
}

export function percent(findings: Findings): string {
  return `${percentOf(findings)} interval`;
}
