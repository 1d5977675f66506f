import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { measurementLabel } from '../../document/queries/names';
import { refTo } from '../../document/queries/refs';
import {
  mixedColumn,
  mixedTrays,
  sayWhenTaken,
  type SlipSource,
  type UnitMix,
} from '../../document/records';
import { trayCode } from '../../engine/geometry';
import { figure, list, noticesOfStage } from '../../words';
import { memo } from '../memo';

const notice = noticesOfStage('records');

// One entry a measurement, and as many again for undo.
const columnOf = memo(mixedColumn, 40);
// By what trays depend on: a value typed at the start leaves those of the harvest as they were.
const traysOf = memo(
  (
    measurement: SlipSource['measurement'],
    pots: SlipSource['pots'],
    values: SlipSource['values'],
    marks: SlipSource['marks'],
    treatmentOf: SlipSource['treatmentOf'],
  ) => mixedTrays({ measurement, pots, values, marks, treatmentOf }),
  40,
);

/** Trays that are off, or else the whole column. */
function mixesOf(source: SlipSource): readonly UnitMix[] {
  const { measurement, pots, values, marks, treatmentOf } = source;
  const trays = traysOf(measurement, pots, values, marks, treatmentOf);
  const column = trays.length > 0 ? null : columnOf(source);
  return column ? [column] : trays;
}

/** Trays, shelves and columns of one measurement that are off by a constant factor. */
export function unitNotices(rack: Plan['rack'], source: SlipSource): Notice[] {
  return mixesOf(source).map((mix) =>
    notice(
      'units-mixed',
      'warn',
      [
        ...(mix.trayIds ?? []).map((id) => refTo('tray', id)),
        refTo('measurement', mix.measurement.id),
      ],
      `${measurementLabel(mix.measurement)}: ${textOf(rack, mix, source)}`,
      'Look at the sheet, or weigh one plant again. Correct the values, or accept them with a reason.',
    ),
  );
}

function textOf(rack: Plan['rack'], mix: UnitMix, { before }: SlipSource): string {
  const { found, against, by, units, measurement } = mix;
  const say = (value: number) => `${figure(value)} ${measurement.unit}`.trim();
  const times = (factor: number) => `${figure(factor, 2)} times`;
  switch (by) {
    case 'trays': {
      const off =
        found > against
          ? `${times(found / against)} that of comparable trays`
          : `comparable trays have ${times(against / found)} as much`;
      const asked = units === null ? 'Was a point left out?' : `Were ${units} mixed up?`;
      return `${say(found)} in the middle of ${placesOf(rack, mix.trayIds ?? [])}; ${off} (${say(against)}). ${asked}`;
    }
    case 'before': {
      const was = `${say(against)}${before ? ` ${sayWhenTaken(before.measurement)}` : ''}`;
      return found < against
        ? `${say(found)} in the middle, after ${was}. Plants rarely shrink: is it another unit?`
        : `${say(found)} in the middle, ${times(found / against)} the ${was}. Is it another unit?`;
    }
    case 'decimals':
      return `${say(found)} in the middle, hardly more than one step of the last decimal. Is it another unit?`;
  }
}

/** `shelf 2 and tray 1A`: whole shelves by their number, trays by their code. */
function placesOf({ shelves }: Plan['rack'], trayIds: readonly string[]): string {
  const off = new Set(trayIds);
  const places = shelves.flatMap(({ number, trays }) => {
    if (trays.length > 1 && trays.every(({ id }) => off.has(id))) return [`shelf ${number}`];
    return trays.flatMap(({ id, letter }) =>
      off.has(id) ? [`tray ${trayCode(number, letter)}`] : [],
    );
  });
  const more = places.length - 4;
  if (more > 0) return list([...places.slice(0, 4), `${more} more`]);
  return list(places);
}
