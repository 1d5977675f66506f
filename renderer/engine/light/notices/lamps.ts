import type { LightPlan } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import type { LampKind, Rack, Shelf } from '../../../../shared-types/rack';
import { baysOf } from '../../geometry';
import {
  EFFICACY_CEILING_UMOL_J,
  EFFICACY_DOUBTFUL_UMOL_J,
  efficacyUmolJ,
  fileOf,
  photometryAnswer,
} from '../../lamps';
import { shelvesInWords } from '../figures';
import type { PotLight } from '../potLight';
import { lightNotice } from './lightNotice';
import { figure, type UnitSystem, unlessRefused, fieldNumber } from '../../../words';

/** One notice a broken file, whichever shelves it darkens; and what else stops a shelf. */
export function problemNotices(
  rack: Rack,
  lit: readonly Shelf[],
  light: PotLight,
  lengths: UnitSystem,
): Notice[] {
  const darkened = new Set<string>();
  const files = rack.lampKinds.flatMap((kind) => {
    const file = fileOf(kind.emission);
    const answer = photometryAnswer(kind);
    const shelves = lit.filter((shelf) => shelf.lamps.some((lamp) => lamp.kindId === kind.id));
    if (!file || !answer || answer.ok || shelves.length === 0) return [];
    for (const shelf of shelves) darkened.add(shelf.id);
    return [
      lightNotice(
        'lamp-file-broken',
        'stop',
        [`lampKind:${kind.id}`, ...shelves.map((shelf) => `shelf:${shelf.id}`)],
        `The photometric file ${file.fileName} of lamp kind ${kind.name} cannot be used: ` +
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
      lightNotice(
        'light-not-computable',
        'stop',
        [`shelf:${shelf.id}`],
        `The light of shelf ${shelf.number} cannot be computed: ${problem(lengths)}.`,
        'Correct what is named; until then the shelf has no light figures.',
      ),
    ];
  });
  return [...files, ...others];
}

/** Efficacy beyond what physics or the market allows. */
export function efficacyNotices(kind: LampKind): Notice[] {
  // What is refused is named by the shelf that carries the lamp.
  const efficacy = unlessRefused(() => efficacyUmolJ(kind));
  if (efficacy === null || efficacy <= EFFICACY_DOUBTFUL_UMOL_J) return [];
  const about = [`lampKind:${kind.id}`];
  const found = `Lamp kind ${kind.name} would give ${figure(efficacy)} µmol per joule`;
  const remedy =
    'Check its photon flux and its power: both for one lamp, at full output, from the maker’s sheet.';
  if (efficacy > EFFICACY_CEILING_UMOL_J) {
    return [
      lightNotice(
        'efficacy-implausible',
        'stop',
        about,
        `${found}; even a lossless lamp cannot exceed ${fieldNumber(EFFICACY_CEILING_UMOL_J)} within 400–700 nm.`,
        remedy,
      ),
    ];
  }
  return [
    lightNotice(
      'efficacy-implausible',
      'warn',
      about,
      `${found}; present fixtures reach about ${fieldNumber(1.5)} to ${fieldNumber(3.7)}.`,
      remedy,
    ),
  ];
}

/** Hours of light that no crop or timer is likely to have. */
export function photoperiodNotices(light: LightPlan, lit: readonly Shelf[]): Notice[] {
  const bays = lit.flatMap((shelf) => baysOf(shelf));
  const common = bays.filter(({ photoperiodHours }) => photoperiodHours === null);
  return [
    ...(common.length > 0
      ? hoursNotice('The photoperiod is', ['plan'], light.photoperiodHours)
      : []),
    ...bays.flatMap(({ id, name, photoperiodHours }) =>
      photoperiodHours === null
        ? []
        : hoursNotice(`The timer of bay ${name} is set to`, [`bay:${id}`], photoperiodHours),
    ),
  ];
}

function hoursNotice(start: string, about: string[], hours: number): Notice[] {
  if (hours > 0 && hours <= 20) return [];
  const text =
    hours === 0
      ? `${start} 0 hours: the lamps never burn, and the DLI is 0.`
      : hours === 24
        ? `${start} 24 hours: the plants get no night.`
        : `${start} ${figure(hours)} hours, which leaves a night of ` +
          `${figure(24 - hours)} hours; many crops suffer under more than 20 hours of light.`;
  const remedy =
    hours === 0
      ? 'Enter the hours of light a day, such as 16.'
      : 'Enter the hours that the timer is set to; if they are meant, accept this with the reason.';
  return [lightNotice('photoperiod-implausible', 'warn', about, text, remedy)];
}
