/** What the lamps of one group give, against their figures. */
export interface GroupScale {
  group: string;
  scale: number;
}

/** A factor for every lamp group; 1 for a group that no reading has spoken of. */
export function scaleIn(scales: readonly GroupScale[]): (group: string) => number {
  const byGroup = new Map(scales.map(({ group, scale }) => [group, scale]));
  return (group) => byGroup.get(group) ?? 1;
}
