/** A term of the trade, as it is explained where it stands on screen. */
export interface GlossaryEntry {
  /** As the screen says it. */
  readonly name: string;
  /** As figures, reports and textbooks say it, where that differs. */
  readonly term?: string;
  /** One plain sentence, or two short ones. */
  readonly says: string;
  /**
   * How it is written on screen: in small letters it is found in either case, with capitals as it
   * stands. Without: the name and the term. An empty list is marked nowhere.
   */
  readonly phrases?: readonly string[];
  /** Where the definition is from, if it is from elsewhere. */
  readonly source?: string;
}

/** Sources that several entries share. From memory; no definition is copied. */
export const sources = {
  light: 'ANSI/ASABE S640, quantities and units of optical radiation for plants',
  lighting: 'CIE S 017, international lighting vocabulary',
  statistics: 'ISO 3534-1, vocabulary of statistics and probability',
  experiments: 'ISO 3534-3, vocabulary of the design of experiments',
  fisher: 'Fisher, The Design of Experiments (1935)',
  cochran: 'Cochran and Cox, Experimental Designs (1957)',
  cox: 'Cox, Planning of Experiments (1958)',
  growth: 'Hunt, Basic Growth Analysis (1990)',
} as const;
