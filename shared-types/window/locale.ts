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

/** The units that a plan is shown in. */
export const unitSystems = ['metric', 'imperial'] as const;
export type UnitSystem = (typeof unitSystems)[number];

/** What is usual on a computer: how it writes, and the units that new plans begin with. */
export interface UsualHere extends Locale {
  readonly units: UnitSystem;
}

/** A person's own choice in place of what is usual on the computer; missing: as the computer has it. */
export type LocaleChoice = Partial<UsualHere>;
