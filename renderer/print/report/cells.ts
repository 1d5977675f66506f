import { differenceShown, differenceUnit, isRatio, type Findings } from '../../engine/findings';
import { asInterval, formatP, percentOf, said, saidDf, saidRange } from '../../words';

/** A cell as it is read, and as it goes into a file of numbers. */
export interface ReportCell {
  text: string;
  value: string | number | null;
  strong?: boolean;
  /** A second line, such as the interval of an estimate. */
  under?: string;
  /** That the cell is to be looked at, and why. */
  mark?: string;
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
  rows: ReportCell[][];
  /** Row to be set apart, counted from 0. */
  marked?: number;
  /** What the reader must know to read it, as sentences below it. */
  note?: string;
}

export const words = (text: string): ReportCell => ({ text, value: text });

export function numberCell(value: number | null | undefined, significant = 3): ReportCell {
  if (value === null || value === undefined || !Number.isFinite(value)) {
    return { text: '–', value: null };
  }
  return { text: said(value, '', significant), value };
}

/** A p, told so that its side of the plan's α can be seen. */
export const p = (value: number | null | undefined, alpha: number): ReportCell =>
  value === null || value === undefined
    ? { text: '–', value: null }
    : { text: formatP(value, alpha), value };

export const df = (value: number | null): ReportCell => ({
  text: value === null ? '–' : saidDf(value),
  value,
});

export const range = (lower: number, upper: number): ReportCell => ({
  text: saidRange(lower, upper),
  value: saidRange(lower, upper),
  ends: [lower, upper],
});

/** An estimate and its interval, all with the decimals that the interval's width asks for. */
export function estimate(value: number, lower: number, upper: number): [ReportCell, ReportCell] {
  return [{ text: asInterval(lower, upper)(value), value, strong: true }, range(lower, upper)];
}

/** Differences, or ratios where the model is one of logarithms, as they are shown. */
export function shown(findings: Findings) {
  const show = (difference: number) => differenceShown(findings, difference);
  const ratio = isRatio(findings.scale);
  return {
    head: ratio ? 'Ratio' : 'Difference',
    many: ratio ? 'Ratios' : 'Differences',
    unit: ratio ? '' : `, ${differenceUnit(findings)}`,
    /** Heads of standard error and least significant difference, which a ratio has by its logarithm. */
    errors: ['SE', 'LSD'].map((name) => ({
      head: ratio ? `${name} of logarithm` : name,
      numeric: true,
    })),
    estimate: (difference: number, lower: number, upper: number) =>
      estimate(show(difference), show(lower), show(upper)),
  };
}

export function intervalWords(findings: Findings): string {
  return `${percentOf(findings)} interval`;
}
