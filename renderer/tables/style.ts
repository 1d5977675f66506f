/** What may stand between the cells of a line. */
export type Separator = ',' | ';' | '\t' | '|';
