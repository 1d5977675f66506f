import type { LightPlan } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import type { Shelf } from '../../../../shared-types/rack';
import { BEFORE_CHANGE, EARLIER_RUN, type CheckedReading } from '../calibration';
import { exchangedNotices, slipNotices, withheldNotice } from './disbelieved';
import { placeInWords, shelvesInWords } from '../figures';
import type { PotLight } from '../potLight';
import { lightNotice } from './lightNotice';
import { figure, plural, type UnitSystem } from '../../../words';

/** Readings that disagree with the others or cannot be used. */
export function outlierNotices(
  shelf: Shelf,
  light: LightPlan,
  at: PotLight,
  lengths: UnitSystem,
): Notice[] {
  const withheld = at.withheld.get(shelf.id);
  const calibration = at.calibrations.get(shelf.id) ?? withheld;
  if (!calibration) return uselessNotices(shelf, light, at);
  const exchanged: readonly string[] = calibration.exchanged ?? [];
  // Of readings that are all withheld, or exchanged, the reason is told once.
  const doubtful = calibration.readings.filter(
    ({ readingId, outlier, slip, unusable }) =>
      (outlier && slip === null && !withheld && !exchanged.includes(readingId)) ||
      (unusable !== null && unusable !== BEFORE_CHANGE && unusable !== EARLIER_RUN),
  );
  return [
    ...(withheld?.implausible
      ? [withheldNotice(shelf, light, withheld.implausible, lengths)]
      : slipNotices(shelf, calibration)),
    ...exchangedNotices(shelf, light, calibration, lengths),
    ...doubtful.map((found) => doubtfulNotice(shelf, light, found, calibration.used, lengths)),
  ];
}

/** A reading that is left out by itself. */
function doubtfulNotice(
  shelf: Shelf,
  light: LightPlan,
  found: CheckedReading,
  used: number,
  lengths: UnitSystem,
): Notice {
  const reading = light.readings.find((r) => r.id === found.readingId);
  const place = reading
    ? `at ${placeInWords(reading.xMm, reading.yMm, lengths)} on shelf ${shelf.number}`
    : `on shelf ${shelf.number}`;
  const about = [`reading:${found.readingId}`, `shelf:${shelf.id}`];
  if (found.unusable !== null) {
    return lightNotice(
      'reading-outlier',
      'warn',
      about,
      `The reading ${place} is ${found.unusable} and is left out.`,
      'Enter its conversion factor, place or height, or delete it.',
    );
  }
  return lightNotice(
    'reading-outlier',
    'warn',
    about,
    `The reading of ${figure(found.measuredUmol)} µmol m⁻² s⁻¹ ${place} does not agree with the ` +
      `other ${used}, which put ${figure(found.calibratedUmol ?? 0)} there; it is ` +
      `left out of the calibration.`,
    'Measure there again, sensor level and unshaded, and check the place and the unit entered; ' +
      'or delete it.',
  );
}

/** A shelf none of whose readings can be used: its figures stay estimated. */
function uselessNotices(shelf: Shelf, light: LightPlan, at: PotLight): Notice[] {
  const own = light.readings.filter((reading) => reading.shelfId === shelf.id);
  const outdated = own.some((reading) => at.outdated.has(reading.id));
  if (own.length === 0 || outdated || !at.shelves.has(shelf.id)) return [];
  return [
    lightNotice(
      'reading-outlier',
      'warn',
      [`shelf:${shelf.id}`, ...own.map((reading) => `reading:${reading.id}`)],
      `Shelf ${shelf.number} has ${plural(own.length, 'reading')}, none of which can be used: taken ` +
        `beside the shelf, where no lamp shines, or 0. Its light stays estimated.`,
      'Check the place and the sensor’s height of each reading, or delete them.',
    ),
  ];
}

/** Shelves of which readings were taken before their lamps or surfaces were changed. */
export function outdatedNotices(lit: readonly Shelf[], light: LightPlan, at: PotLight): Notice[] {
  return lit.flatMap((shelf) => {
    const old = light.readings.filter(
      ({ id, shelfId }) => shelfId === shelf.id && at.outdated.has(id),
    );
    if (old.length === 0) return [];
    const calibration = at.calibrations.get(shelf.id);
    const percent = at.shelves.get(shelf.id)?.uncertainty.plusMinusPercent;
    const now = calibration?.carried
      ? `is carried over from them by ratio${percent ? `, ±${figure(percent, 2)} %` : ''}`
      : calibration
        ? 'is calibrated by the others alone'
        : 'is estimated from the lamps’ figures alone';
    return [
      lightNotice(
        'readings-outdated',
        'note',
        [`shelf:${shelf.id}`],
        `Of shelf ${shelf.number} ${plural(old.length, 'reading')} ${old.length === 1 ? 'was' : 'were'} ` +
          `taken before its lamps or surfaces were changed; its light ${now}.`,
        'Measure again and remove the old readings; or say in the light stage that they still hold, ' +
          'where only the drawing was put right.',
      ),
    ];
  });
}

/** One note for all shelves whose light rests on the lamps’ figures alone. */
export function unreadNotices(lit: readonly Shelf[], light: LightPlan, at: PotLight): Notice[] {
  const told = new Set(
    light.readings.filter(({ id }) => at.outdated.has(id)).map(({ shelfId }) => shelfId),
  );
  const unread = lit.filter((shelf) => {
    if (told.has(shelf.id) || at.withheld.has(shelf.id)) return false;
    const summary = at.shelves.get(shelf.id);
    return summary?.evenness && summary.source === 'estimated';
  });
  if (unread.length === 0) return [];
  const known = unread.flatMap((shelf) => {
    const percent = at.shelves.get(shelf.id)?.uncertainty.plusMinusPercent;
    return percent === null || percent === undefined ? [] : [percent];
  });
  const uncertainty = known.length > 0 ? ` (about ±${figure(Math.max(...known), 2)} %)` : '';
  return [
    lightNotice(
      'no-readings',
      'note',
      unread.map((shelf) => `shelf:${shelf.id}`),
      `The light of ${shelvesInWords(unread.map((shelf) => shelf.number))} is estimated from the ` +
        `lamps’ figures alone${uncertainty}; no meter reading stands behind it.`,
      'Take readings at canopy height under each lamp, between lamps and at the corners, and enter ' +
        'them in the light stage.',
    ),
  ];
}
