/** What pages can be printed on; a paper's name is its label. */
export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];

export function isPaper(name: string): name is Paper {
  return papers.some((paper) => paper === name);
}
