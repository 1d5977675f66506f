/** How decimals are written. */
export const decimalMarks = ['.', ','] as const;
export type DecimalMark = (typeof decimalMarks)[number];

/** How a day is said: `2026-03-02`, `2 Mar 2026` or `Mar 2, 2026`. */
export const dayForms = ['iso', 'day-first', 'month-first'] as const;
export type DayForm = (typeof dayForms)[number];

/** The day that a week begins with. */
export const weekStarts = ['monday', 'sunday', 'saturday'] as const;
export type WeekStart = (typeof weekStarts)[number];

/** How numbers and days are written where the program speaks to a person. */
export interface Locale {
  readonly decimal: DecimalMark;
  readonly days: DayForm;
  readonly weekStart: WeekStart;
}

/** A person's own choice in place of what is usual on the computer; missing: as the computer has it. */
export type LocaleChoice = Partial<Locale>;
