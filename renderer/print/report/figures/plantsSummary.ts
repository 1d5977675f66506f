import type { Findings } from '../../../engine/findings';
import { asInterval, list, plural, said, saidRange } from '../../../words';
import { lettersOf, plantChoices, plantGroups } from './plantGroups';

/** What the picture of every plant shows, a sentence a group, for those who cannot see it. */
export function plantsSummary(
  findings: Findings,
  of: readonly string[] = plantChoices(findings)[0] ?? [],
): string[] {
  const found = plantGroups(findings, of);
  if (!found) return [];
  const { panelRole, levelRole, groups } = found;
  const { unit } = findings.response;
  return groups.map(({ panel, level, dots, lost, mean }) => {
    const values = dots.map(({ value }) => value);
    const parts = [
      plural(dots.length, 'plant'),
      ...(mean
        ? [
            `adjusted mean ${withUnit(asInterval(mean.lower, mean.upper)(mean.mean), unit)} (${saidRange(mean.lower, mean.upper)})`,
          ]
        : []),
      ...(values.length > 0
        ? [`from ${said(Math.min(...values), '')} to ${said(Math.max(...values), unit)}`]
        : []),
      ...(['dead', 'missing', 'left out'] as const).flatMap((why) => {
        const n = lost.filter((dot) => dot.why === why).length;
        return n > 0 ? [`${n} ${why}`] : [];
      }),
      ...letterWords(panelRole === null ? lettersOf(findings, levelRole).get(level) : undefined),
    ];
    return `${list([panel, level].filter((name) => name !== ''))}: ${parts.join(', ')}.`;
  });
}

const letterWords = (letter: string | undefined): string[] =>
  letter === undefined ? [] : [`group ${letter}`];

const withUnit = (text: string, unit: string): string => `${text} ${unit}`.trimEnd();
