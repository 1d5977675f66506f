import type { ArrangeAnswer, Arrangement } from '../../../engine/light';
import { formatLength, percent, plural, type UnitSystem } from '../../../words';

/** What the figures are estimated from. */
export function restsOn({ before, after }: ArrangeAnswer): string {
  if (after.scales.length > 0) {
    return 'All estimated from the lamps’ figures with the scale of the readings.';
  }
  return before && before.scales.length > 0
    ? 'Estimated from the lamps’ figures; with the scale of the readings as they hang, without proposed.'
    : 'Estimated from the lamps’ figures, without readings.';
}

/** `60 %`, or `45–60 %` where lamps are dimmed apart. */
export function dimmings({ lamps }: Arrangement): string {
  const all = lamps.map((lamp) => lamp.dimming);
  const [low, high] = [percent(Math.min(...all)), percent(Math.max(...all))];
  return low === high ? high : `${low.replace(/ %$/, '')}–${high}`;
}

/** A length as finely as a person hangs lamps: to the millimetre, or a tenth of an inch. */
function hung(mm: number, lengths: UnitSystem): string {
  const step = lengths === 'metric' ? 1 : 2.54;
  return formatLength(Math.round(mm / step) * step, lengths);
}

/** Height, rows and dimming as a person would hang them. */
export function inWords(at: Arrangement, lengths: UnitSystem): string {
  const [first] = at.lamps;
  if (!first) return 'no lamp.';
  const alongX = first.rotationDeg % 180 === 0;
  const alike = new Set(at.lamps.map((lamp) => lamp.dimming)).size === 1;
  const rows = new Map(
    at.lamps.map((lamp) => [Math.round(alongX ? lamp.yMm : lamp.xMm), lamp.dimming]),
  );
  const places = [...rows].map(
    ([mm, dimming]) => `${hung(mm, lengths)}${alike ? '' : ` (${percent(dimming)})`}`,
  );
  return (
    `${plural(at.lamps.length, 'lamp')} ${hung(first.zMm, lengths)} above the shelf, ` +
    `lying ${alongX ? 'from left to right' : 'from front to back'}, ` +
    `${places.join(', ')} from the ${alongX ? 'front' : 'left'}` +
    (alike ? `, dimmed to ${percent(first.dimming)}.` : ', each row dimmed as said.')
  );
}
