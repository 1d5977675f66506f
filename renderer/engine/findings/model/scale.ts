import type { FitRequest, MeanRow } from '../../../../shared-types/fit';
import type { Scale } from '../../../../shared-types/trial/measurement';
import { asInterval, said, saidRange } from '../../../words';

/** The scale that a response enters the model on; null: as measured. */
export type ResponseScale = Scale | null;

export const SCALE_WORDS: Record<Scale, string> = {
  sqrt: 'square roots',
  log: 'logarithms',
  poisson: 'counts (Poisson)',
  'quasi-poisson': 'counts that vary more than Poisson (quasi-Poisson)',
  'negative-binomial': 'counts that vary more than Poisson (negative binomial)',
};

/** Whether the model has a log link of its own, as counts have. */
export function isCounts(
  scale: ResponseScale,
): scale is 'poisson' | 'quasi-poisson' | 'negative-binomial' {
  return scale === 'poisson' || scale === 'quasi-poisson' || scale === 'negative-binomial';
}

/** The scale as a fit takes it. */
export function fitScale(scale: ResponseScale): Pick<FitRequest, 'scale' | 'counts'> {
  if (isCounts(scale)) return { scale: 'identity', counts: scale };
  return { scale: scale ?? 'identity', counts: null };
}

/** Whether a difference of the model is the logarithm of a ratio. */
export function isRatio(scale: ResponseScale): boolean {
  return scale === 'log' || isCounts(scale);
}

/** From the scale of the model back to that of the measurement. */
export function undoScale(scale: ResponseScale, value: number): number {
  if (scale === 'log') return Math.exp(value);
  return scale === 'sqrt' ? Math.max(value, 0) ** 2 : value;
}

/** A mean with its limits in the unit of the measurement. */
export function meanShown(row: MeanRow): { mean: number; lower: number; upper: number } {
  if (row['backTransformed'] === undefined) return row;
  const number = (name: string) => {
    const cell = row[name];
    // A limit beyond all numbers, as that of a level without a single count.
    return typeof cell === 'number' ? cell : Infinity;
  };
  return {
    mean: number('backTransformed'),
    lower: number('backTransformedLower'),
    upper: number('backTransformedUpper'),
  };
}

/** What is needed to say a difference. */
export interface DifferenceScale {
  response: { unit: string };
  scale: ResponseScale;
}

/** A difference of the model as it is shown: a ratio where the model is one of logarithms. */
export function differenceShown(
  { scale }: Pick<DifferenceScale, 'scale'>,
  difference: number,
): number {
  return isRatio(scale) ? Math.exp(difference) : difference;
}

/** Unit of what `differenceShown` gives; a ratio has none. */
export function differenceUnit({ response, scale }: DifferenceScale): string {
  if (isRatio(scale)) return '';
  return scale === 'sqrt' ? `√${response.unit || 'units'}` : response.unit;
}

/** The difference that means none: 0, or a ratio of 1. */
export function noDifference({ scale }: Pick<DifferenceScale, 'scale'>): number {
  return isRatio(scale) ? 1 : 0;
}

/** A difference with its unit; with the decimals of its interval, where that stands beside it. */
export function saidDifference(
  of: DifferenceScale,
  difference: number,
  interval?: { lower: number; upper: number },
): string {
  const shown = differenceShown(of, difference);
  const unit = differenceUnit(of);
  const figure = interval
    ? asInterval(differenceShown(of, interval.lower), differenceShown(of, interval.upper))(shown)
    : said(shown);
  const text = unit ? `${figure} ${unit}` : figure;
  return isRatio(of.scale) ? `a ratio of ${text}` : text;
}

export function saidInterval(of: DifferenceScale, lower: number, upper: number): string {
  const ends = [differenceShown(of, lower), differenceShown(of, upper)] as const;
  return saidRange(ends[0], ends[1], differenceUnit(of));
}
