/** Why an entry of the log that the program wrote stays as it is. */
export const KEPT_ENTRY =
  'The program wrote this entry, so it stays; add an entry of your own to explain it.';
