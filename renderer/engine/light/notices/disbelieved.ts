import type { LightPlan } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import type { Shelf } from '../../../../shared-types/rack';
import {
  slipKinds,
  slipWords,
  type ReadingsFound,
  type Implausible,
  type SlipKind,
} from '../calibration';
import { placeInWords } from '../figures';
import type { PotLight } from '../potLight';
import { lightNotice } from './lightNotice';
import { figure, plural, type UnitSystem, fieldNumber } from '../../../words';

const usualTimes = () => `${fieldNumber(0.5)} to ${fieldNumber(1.5)} times`;

/** What a slip asks for, before what else may be wrong. */
const ofSlip = (slip: SlipKind | null, many: boolean) =>
  slip
    ? `${many ? 'They look' : 'It looks'} like ${slipWords[slip]}: correct the unit or value. `
    : '';

/** Readings left out that look like one slip: one notice for all of them. */
export function slipNotices(shelf: Shelf, { readings, used }: ReadingsFound): Notice[] {
  return slipKinds.flatMap((kind) => {
    const alike = readings.filter(({ outlier, slip }) => outlier && slip === kind);
    if (alike.length === 0) return [];
    const one = alike.length === 1;
    const times = alike.map(({ measuredUmol, estimatedUmol }) => measuredUmol / estimatedUmol);
    const typical = times.reduce((sum, ratio) => sum + ratio, 0) / times.length;
    return [
      lightNotice(
        'reading-outlier',
        'warn',
        [...alike.map(({ readingId }) => `reading:${readingId}`), `shelf:${shelf.id}`],
        `${plural(alike.length, 'reading')} of shelf ${shelf.number} ${one ? 'is' : 'are'} about ` +
          `${figure(typical, 2)} times the estimate; the other ${used} agree with it. ` +
          `${one ? 'It is' : 'They are'} left out.`,
        `${ofSlip(kind, !one)}Or measure there again.`,
      ),
    ];
  });
}

/** Two readings that look exchanged, whether they are left out, withheld or followed. */
export function exchangedNotices(
  shelf: Shelf,
  light: LightPlan,
  { exchanged, readings, implausible }: ReadingsFound,
  lengths: UnitSystem,
): Notice[] {
  if (!exchanged) return [];
  const places = exchanged.map((id) => {
    const reading = light.readings.find((r) => r.id === id);
    const measured = readings.find(({ readingId }) => readingId === id)?.measuredUmol ?? 0;
    const at = reading ? ` at ${placeInWords(reading.xMm, reading.yMm, lengths)}` : '';
    return `${figure(measured)} µmol m⁻² s⁻¹${at}`;
  });
  const out = exchanged.every((id) => readings.some((r) => r.readingId === id && r.outlier));
  const done = implausible ? '' : out ? ' They are left out.' : ' They are followed as they stand.';
  return [
    lightNotice(
      'reading-outlier',
      'warn',
      [...exchanged.map((id) => `reading:${id}`), `shelf:${shelf.id}`],
      `Two readings of shelf ${shelf.number} look exchanged: ${places.join(' and ')}. Each fits the ` +
        `other’s place.${done}`,
      'Exchange their values where they were typed into each other’s place, or measure both again.',
    ),
  ];
}

/** Why the readings of a shelf are not followed: they would change it more than lamps ever do. */
export function withheldNotice(
  shelf: Shelf,
  light: LightPlan,
  why: Implausible,
  lengths: UnitSystem,
): Notice {
  const stays = `Its light stays estimated until this is settled.`;
  const about = [`shelf:${shelf.id}`];
  const told = (refs: string[], text: string, remedy: string) =>
    lightNotice('reading-implausible', 'warn', refs, `${text} ${stays}`, remedy);
  const lampsOrUnit =
    'Check the unit and the lux factor of the readings, and the output, dimming and height of ' +
    'the lamps.';
  switch (why.kind) {
    case 'factor':
      return told(
        about,
        `The readings of shelf ${shelf.number} put its lamps at ${figure(why.scale, 2)} times their ` +
          `figures; ${usualTimes()} is usual.`,
        ofSlip(why.slip, true) + lampsOrUnit,
      );
    case 'group':
      return told(
        about,
        `The readings of shelf ${shelf.number} put ${groupInWords(why.group)} at ` +
          `${figure(why.scale, 2)} times its figures; ${usualTimes()} is usual.`,
        `Check whether these lamps were on and dimmed as drawn. ${lampsOrUnit}`,
      );
    case 'slips':
      return told(
        [...why.readingIds.map((id) => `reading:${id}`), ...about],
        `On shelf ${shelf.number} ${why.readingIds.length} of ${why.of} readings are about ` +
          `${figure(why.times, 2)} times the estimate, the others near it.`,
        ofSlip(why.slip, true) + 'Or measure there again.',
      );
    case 'photons':
      return told(
        about,
        `By the readings of shelf ${shelf.number} its canopy would take up ` +
          `${figure(why.landingUmolS)} µmol/s of light; its lamps emit ${figure(why.emittedUmolS)}.`,
        `More cannot arrive than leaves the lamps. ${lampsOrUnit}`,
      );
    case 'missed': {
      const { readingId, measuredUmol, expectedUmol, percent } = why.reading;
      const reading = light.readings.find((r) => r.id === readingId);
      const place = reading ? ` at ${placeInWords(reading.xMm, reading.yMm, lengths)}` : '';
      return told(
        [`reading:${readingId}`, ...about],
        `On shelf ${shelf.number} ${figure(measuredUmol)} µmol m⁻² s⁻¹ were read${place}, ` +
          `${figure(Math.abs(percent), 2)} % ${percent > 0 ? 'above' : 'below'} the ` +
          `${figure(expectedUmol)} that the other readings expect there.`,
        ofSlip(why.slip, false) + 'Measure there again and correct the reading, or delete it.',
      );
    }
    default:
      return why satisfies never;
  }
}

const groupInWords = (group: string) =>
  group === '' ? 'the lamps without a group' : `lamp group ${group}`;

/** Readings that are followed though they put the lamps farther off than the estimate allows. */
export function surpriseNotices(shelf: Shelf, at: PotLight): Notice[] {
  const surprise = at.calibrations.get(shelf.id)?.surprise;
  if (!surprise) return [];
  const { ratio, lowest, highest } = surprise;
  return [
    lightNotice(
      'readings-off-estimate',
      'note',
      [`shelf:${shelf.id}`],
      `The readings of shelf ${shelf.number} put its lamps at ${figure(ratio, 2)} times their figures; ` +
        `${figure(lowest, 2)} to ${figure(highest, 2)} was expected. They are followed.`,
      'Check output, dimming and height of the lamps as entered, and that the meter suits their light.',
    ),
  ];
}
