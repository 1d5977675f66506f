import { figures } from '../../../words';

/** How far units differed, and how far they may; `units` null: the source tells nothing of it. */
export function unitSpreadWords(
  units: { sd: number; upper: number } | null,
  many: string,
  unit: string,
): string {
  if (!units) return `It tells nothing of the spread between ${many}.`;
  const said = (sd: number): string => `${figures(sd)} ${unit}`.trimEnd();
  const { sd, upper } = units;
  if (sd > 0) return `Between ${many} SD ${said(sd)}; it may be up to ${said(upper)} (95 % limit).`;
  if (upper === 0) {
    return `The ${many} differ even less than their plants would make them: they tell nothing of a spread between them.`;
  }
  return (
    `No spread between ${many} showed; it may be up to ${said(upper)} (95 % limit). ` +
    'That limit is taken, to be on the safe side.'
  );
}
