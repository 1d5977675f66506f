import type { Notice } from '../../../shared-types/notice';
import { countOf } from '../../document/changedKeys';
import { measurementLabel } from '../../document/queries/names';
import { refTo } from '../../document/queries/refs';
import { pastedTwice, shiftedValues, type SlipSource } from '../../document/records';
import { figure, noticesOfStage, plural } from '../../words';
import { memo } from '../memo';

const notice = noticesOfStage('records');

// One entry a measurement, and as many again for undo.
const pastedIn = memo(pastedTwice, 40);
const shiftedIn = memo(shiftedValues, 40);

/** A column is looked through once all but three in a hundred of its values are in. */
const NEARLY_ALL = 0.97;

/**
 * Runs of values that are in the records twice, or beside the pots that they are of. Not while a
 * column is being typed: every key would wait for it.
 */
export function sequenceNotices(source: SlipSource): Notice[] {
  const { pots, values, marks } = source;
  const known = countOf(values) + countOf(marks);
  if (known < NEARLY_ALL * pots.length) return [];
  return [...pastedNotices(source), ...shiftedNotices(source)];
}

function pastedNotices(source: SlipSource): Notice[] {
  const found = pastedIn(source);
  const [first, second] = [found?.first[0], found?.second[0]];
  if (!found || !first || !second) return [];
  const name = measurementLabel(source.measurement);
  const values = plural(found.second.length, 'value');
  const text = found.otherColumn
    ? `${name}: the ${values} from pot ${first.code} on are the same, one by one, as those of ${measurementLabel(found.otherColumn)}.`
    : `${name}: the ${values} from pot ${second.code} on are the same, one by one, as those from pot ${first.code} on.`;
  return [
    notice(
      'block-pasted-twice',
      'warn',
      [
        ...found.second.map(({ id }) => refTo('pot', id)),
        refTo('measurement', source.measurement.id),
      ],
      `${text} Chance hardly does that: was a block pasted twice?`,
      'Compare with the sheet; import or type the right values, or accept them with a reason.',
    ),
  ];
}

function shiftedNotices(source: SlipSource): Notice[] {
  const { measurement, before } = source;
  return shiftedIn(source).flatMap(({ trayId, pots, by, asRecorded, moved }) => {
    const [first] = pots;
    if (!first || !before) return [];
    const beside = by === 1 ? 'before' : 'after';
    return [
      notice(
        'values-shifted',
        'warn',
        [refTo('tray', trayId), refTo('measurement', measurement.id)],
        `${measurementLabel(measurement)}: from about pot ${first.code} to the end of its tray, each value fits the plant in the pot ${beside} it. With ${measurementLabel(before.measurement)} they agree at ${figure(moved, 2)} when moved by one pot, at ${figure(asRecorded, 2)} as recorded (1 is full agreement).`,
        'Look for a pot that was skipped or entered twice, and correct what follows it.',
      ),
    ];
  });
}
