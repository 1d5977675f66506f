import type {
  DayForm,
  Locale,
  UnitSystem,
  UsualHere,
  WeekStart,
} from '../../shared-types/window/locale';

/** What files and batch answers are written in; the program speaks so until it is told otherwise. */
export const STANDARD: Locale = { decimal: '.', days: 'iso', weekStart: 'monday' };

let spoken: Locale = STANDARD;

/** How numbers and days are written now. */
export const spokenLocale = (): Locale => spoken;

/**
 * Sets how numbers and days are written from now on. For the edges alone: the window as it starts and
 * where the person chooses anew, and each worker before it begins a job. What is kept of computed
 * sentences (`derive/memo.ts`) is kept by this value.
 */
export function speakAs(locale: Locale): void {
  const same =
    locale.decimal === spoken.decimal &&
    locale.days === spoken.days &&
    locale.weekStart === spoken.weekStart;
  if (!same) spoken = locale;
}

/** What is usual where a language tag such as `de-AT` belongs; as files have it where it is no tag. */
export function localeOf(language: string): UsualHere {
  try {
    return {
      decimal: usualDecimal(language),
      days: usualDays(language),
      weekStart: usualWeekStart(language),
      units: usualUnits(language),
    };
  } catch (error) {
    if (error instanceof RangeError) return { ...STANDARD, units: 'metric' };
    throw error;
  }
}

function usualDecimal(language: string): Locale['decimal'] {
  // The program writes Latin digits everywhere.
  const parts = new Intl.NumberFormat(language, { numberingSystem: 'latn' }).formatToParts(1.5);
  return parts.some(({ type, value }) => type === 'decimal' && value === '.') ? '.' : ',';
}

function usualDays(language: string): DayForm {
  const format = new Intl.DateTimeFormat(language, { dateStyle: 'short', calendar: 'gregory' });
  const first = format.formatToParts(0).find(({ type }) => /^(day|month|year)$/.test(type))?.type;
  if (first === 'day') return 'day-first';
  return first === 'month' ? 'month-first' : 'iso';
}

interface WeekInfo {
  /** 1 for Monday to 7 for Sunday. */
  firstDay: number;
}

function usualWeekStart(language: string): WeekStart {
  // A getter in older engines, a method in newer ones.
  const place: Intl.Locale & { getWeekInfo?: () => WeekInfo; weekInfo?: WeekInfo } =
    new Intl.Locale(language);
  const firstDay = (place.getWeekInfo?.() ?? place.weekInfo)?.firstDay;
  if (firstDay === 7) return 'sunday';
  return firstDay === 6 ? 'saturday' : 'monday';
}

/** Where inches, gallons and pounds are usual, by Unicode CLDR (supplemental data, measurementSystem US). */
const IMPERIAL_REGIONS = ['LR', 'MM', 'US'];

/** The units that are usual where a language tag belongs; metric where it tells no place. */
function usualUnits(language: string): UnitSystem {
  const { region } = new Intl.Locale(language);
  return region !== undefined && IMPERIAL_REGIONS.includes(region) ? 'imperial' : 'metric';
}
