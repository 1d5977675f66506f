import type { Notice, NoticeKind, Severity } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { LightPlan } from '../../../shared-types/light';
import type { LampKind, Rack, Shelf, Tray } from '../../../shared-types/rack';
import { trayCode } from '../geometry';
import type { Evenness } from './evenness';
import { counted, figure, shelvesInWords } from './figures';
import { EFFICACY_CEILING_UMOL_J, EFFICACY_DOUBTFUL_UMOL_J, efficacyUmolJ } from './output';
import { readPhotometry } from './photometry';
import { potLight, type PotLight } from './potLight';

type LightPlanOf = Pick<Plan, 'rack' | 'light'>;

function notice(
  kind: NoticeKind,
  severity: Severity,
  about: string[],
  text: string,
  remedy: string,
): Notice {
  return { kind, severity, stage: 'light', about, text, remedy };
}

/**
 * Everything doubtful about the plan's light. `light` may be passed where it has been computed
 * already. Silent about trays without pots and shelves without lamps.
 */
export function lightNotices(plan: LightPlanOf, light?: PotLight): Notice[] {
  const at = light ?? potLight(plan.rack, plan.light);
  const lit = plan.rack.shelves.filter((shelf) => shelf.lamps.length > 0);
  return [
    ...problemNotices(plan.rack, lit, at),
    ...plan.rack.lampKinds.flatMap(efficacyNotices),
    ...photoperiodNotices(plan.light, lit),
    ...lit.flatMap((shelf) =>
      shelf.trays.flatMap((tray) => trayNotices(shelf, tray, plan.light, at)),
    ),
    ...lit.flatMap((shelf) => outlierNotices(shelf, plan.light, at)),
    ...unreadNotices(lit, at),
  ];
}

/** One notice a broken file, whichever shelves it darkens; and what else stops a shelf. */
function problemNotices(rack: Rack, lit: readonly Shelf[], light: PotLight): Notice[] {
  const darkened = new Set<string>();
  const files = rack.lampKinds.flatMap((kind) => {
    if (kind.emission.kind !== 'file') return [];
    const answer = readPhotometry(kind.emission.text);
    const shelves = lit.filter((shelf) => shelf.lamps.some((lamp) => lamp.kindId === kind.id));
    if (answer.ok || shelves.length === 0) return [];
    for (const shelf of shelves) darkened.add(shelf.id);
    return [
      notice(
        'lamp-file-broken',
        'stop',
        [`lampKind:${kind.id}`, ...shelves.map((shelf) => `shelf:${shelf.id}`)],
        `The photometric file ${kind.emission.fileName} of lamp kind ${kind.name} cannot be used: ` +
          `line ${answer.line}: ${answer.reason}; found ${answer.found}; expected ` +
          `${answer.expected}. The light of ` +
          `${shelvesInWords(shelves.map((shelf) => shelf.number))} cannot be computed.`,
        'Load the file again from the maker, or give the lamp kind a beam angle instead.',
      ),
    ];
  });
  const others = lit.flatMap((shelf) => {
    const problem = light.problems.get(shelf.id);
    if (problem === undefined || darkened.has(shelf.id)) return [];
    return [
      notice(
        'lamp-file-broken',
        'stop',
        [`shelf:${shelf.id}`],
        `The light of shelf ${shelf.number} cannot be computed: ${problem}.`,
        'Correct what is named; until then the shelf has no light figures.',
      ),
    ];
  });
  return [...files, ...others];
}

function efficacyNotices(kind: LampKind): Notice[] {
  let efficacy: number | null;
  try {
    efficacy = efficacyUmolJ(kind);
  } catch {
    // Named by the shelf that carries the lamp.
    return [];
  }
  if (efficacy === null || efficacy <= EFFICACY_DOUBTFUL_UMOL_J) return [];
  const about = [`lampKind:${kind.id}`];
  const found = `Lamp kind ${kind.name} would give ${figure(efficacy)} µmol per joule`;
  const remedy =
    'Check its photon flux and its power: both for one lamp, at full output, from the maker’s sheet.';
  if (efficacy > EFFICACY_CEILING_UMOL_J) {
    return [
      notice(
        'efficacy-implausible',
        'stop',
        about,
        `${found}; even a lossless lamp cannot exceed ${EFFICACY_CEILING_UMOL_J} within 400–700 nm.`,
        remedy,
      ),
    ];
  }
  return [
    notice(
      'efficacy-implausible',
      'warn',
      about,
      `${found}; present fixtures reach about 1.5 to 3.7.`,
      remedy,
    ),
  ];
}

function photoperiodNotices(light: LightPlan, lit: readonly Shelf[]): Notice[] {
  const hours = light.photoperiodHours;
  if (lit.length === 0 || (hours > 0 && hours <= 20)) return [];
  const text =
    hours === 0
      ? 'The photoperiod is 0 hours: the lamps never burn, and every DLI is 0.'
      : hours === 24
        ? 'The photoperiod is 24 hours: the plants get no night.'
        : `The photoperiod is ${figure(hours)} hours, which leaves a night of ` +
          `${figure(24 - hours)} hours; many crops suffer under more than 20 hours of light.`;
  return [
    notice(
      'photoperiod-implausible',
      'warn',
      ['plan'],
      text,
      hours === 0
        ? 'Enter the hours of light a day, such as 16.'
        : 'Enter the hours that the timer is set to; if they are meant, accept this with the reason.',
    ),
  ];
}

function trayNotices(shelf: Shelf, tray: Tray, plan: LightPlan, light: PotLight): Notice[] {
  const summary = light.trays.get(tray.id);
  const judged = summary?.withoutGuards ?? summary?.evenness;
  if (!summary || !judged) return [];
  const about = [`tray:${tray.id}`];
  const what = `Tray ${trayCode(shelf.number, tray.letter)}`;
  const where = `at ${figure(summary.heightMm, 4)} mm (${summary.source})`;
  const notices: Notice[] = [];
  const uneven = unevenNotice(about, what, judged, plan.lowestMinToMean, where);
  if (uneven) notices.push(uneven);
  const target = plan.targetPpfdUmol;
  if (!target) return notices;
  const mean = `${what} gets a mean of ${figure(judged.mean)} µmol m⁻² s⁻¹ ${where}`;
  const range = `the plan asks for ${figure(target.lowest)} to ${figure(target.highest)}`;
  const nearer = 'Hang the lamps lower, dim them less or add one; or lower the target.';
  const farther = 'Hang the lamps higher or dim them; or raise the target.';
  if (judged.mean < target.lowest) {
    notices.push(notice('light-too-low', 'warn', about, `${mean}; ${range}.`, nearer));
  } else if (judged.min < target.lowest) {
    const text = `${mean}, but its darkest pot only ${figure(judged.min)}; ${range}.`;
    notices.push(notice('light-too-low', 'note', about, text, nearer));
  }
  if (judged.mean > target.highest) {
    notices.push(notice('light-too-high', 'warn', about, `${mean}; ${range}.`, farther));
  } else if (judged.max > target.highest) {
    const text = `${mean}, but its brightest pot ${figure(judged.max)}; ${range}.`;
    notices.push(notice('light-too-high', 'note', about, text, farther));
  }
  return notices;
}

/** The notice for a set of pots (tray or block) whose min:mean falls under the limit, or null. */
export function unevenNotice(
  about: string[],
  what: string,
  found: Evenness,
  lowestMinToMean: number,
  where: string,
): Notice | null {
  const { minToMean, n } = found;
  if (n < 2 || minToMean === null || minToMean >= lowestMinToMean) return null;
  return notice(
    'light-uneven',
    'warn',
    about,
    `${what} is lit unevenly ${where}: its darkest pot gets ${figure(found.min)} µmol m⁻² s⁻¹, ` +
      `${figure(minToMean, 2)} of the mean ${figure(found.mean)} over ${counted(n, 'pot')}; ` +
      `the plan asks for at least ${figure(lowestMinToMean, 2)}.`,
    'Space the lamps wider or hang them higher, brighten the sides, make the outer ring guard ' +
      'pots, or block along the light.',
  );
}

function outlierNotices(shelf: Shelf, light: LightPlan, at: PotLight): Notice[] {
  const calibration = at.calibrations.get(shelf.id);
  if (!calibration) return [];
  const doubtful = calibration.readings.filter((reading) => reading.wild || reading.unusable);
  return doubtful.map((found) => {
    const reading = light.readings.find((r) => r.id === found.readingId);
    const place = reading
      ? `at ${figure(reading.xMm, 4)}, ${figure(reading.yMm, 4)} mm on shelf ${shelf.number}`
      : `on shelf ${shelf.number}`;
    const about = [`reading:${found.readingId}`, `shelf:${shelf.id}`];
    if (found.unusable !== null) {
      return notice(
        'reading-outlier',
        'warn',
        about,
        `The reading ${place} is ${found.unusable} and is left out.`,
        'Enter its conversion factor, place or height, or delete it.',
      );
    }
    return notice(
      'reading-outlier',
      'warn',
      about,
      `The reading of ${figure(found.measuredUmol)} µmol m⁻² s⁻¹ ${place} does not agree with the ` +
        `other ${calibration.used}, which put ${figure(found.calibratedUmol ?? 0)} there; it is ` +
        `left out of the calibration.`,
      'Measure there again, sensor level and unshaded, and check the place and the unit entered; ' +
        'or delete it.',
    );
  });
}

function unreadNotices(lit: readonly Shelf[], at: PotLight): Notice[] {
  const unread = lit.filter((shelf) => {
    const summary = at.shelves.get(shelf.id);
    return summary?.evenness && summary.source === 'estimated';
  });
  if (unread.length === 0) return [];
  const doubts = unread.flatMap((shelf) => {
    const percent = at.shelves.get(shelf.id)?.doubt.plusMinusPercent;
    return percent === null || percent === undefined ? [] : [percent];
  });
  const doubt = doubts.length > 0 ? ` (about ±${figure(Math.max(...doubts), 2)} %)` : '';
  return [
    notice(
      'no-readings',
      'note',
      unread.map((shelf) => `shelf:${shelf.id}`),
      `The light of ${shelvesInWords(unread.map((shelf) => shelf.number))} is estimated from the ` +
        `lamps’ figures alone${doubt}; no meter reading stands behind it.`,
      'Take readings at canopy height under each lamp, between lamps and at the corners, and enter ' +
        'them in the light stage.',
    ),
  ];
}
