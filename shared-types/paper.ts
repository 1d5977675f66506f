/** What pages can be printed on; a paper's name is its label. */
export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];

export function isPaper(name: string): name is Paper {
  return papers.some((paper) => paper === name);
}

/** Where Letter is the usual paper, by Unicode CLDR (supplemental data, paperSize US-Letter). */
const LETTER_REGIONS = 'BZ CA CL CO CR GT MX NI PA PH PR SV US VE'.split(' ');

/** The paper that is usual where a language tag such as `es-MX` belongs; A4 where it tells no place. */
export function usualPaper(language: string): Paper {
  try {
    const { region } = new Intl.Locale(language);
    return region !== undefined && LETTER_REGIONS.includes(region) ? 'Letter' : 'A4';
  } catch {
    return 'A4';
  }
}
