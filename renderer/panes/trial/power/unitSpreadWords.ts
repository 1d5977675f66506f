import { figures } from '../../../words';

/** How far units differed, and how far they may; `units` null: the source tells nothing of it. */
export function unitSpreadWords(
  units: { sd: number; upper: number } | null,
  many: string,
  unit: string,
): string {
  if (!units) return `It tells nothing of how much ${many} differ.`;
  const said = (sd: number): string => `${figures(sd)} ${unit}`.trimEnd();
  const { sd, upper } = units;
  if (sd > 0)
    return `Equal ${many} typically differ by ${said(sd)}; it may be up to ${said(upper)} (95 % limit).`;
  if (upper === 0) {
    return `The ${many} differ even less than their plants would make them: they tell nothing of how much they differ by themselves.`;
  }
  return (
    `No difference between equal ${many} showed; it may be up to ${said(upper)} (95 % limit). ` +
    'That limit is taken, to be on the safe side.'
  );
}
