import type { Layout } from '../../../../shared-types/layout';
import type { Notice } from '../../../../shared-types/notice';
import type { Rack } from '../../../../shared-types/rack';
import type { Trial } from '../../../../shared-types/trial/trial';
import { capital, list, noticesOfStage, plural, sayDay } from '../../../words';
import { trayCode, type Pot } from '../../geometry';
import { standsOnLightOfToday } from '../draw/atDraw';
import { measuredPots } from '../measuredPots';

const layoutNotice = noticesOfStage('layout');

/** More trays than these are counted, not named. */
const MOST_NAMED = 6;

/** A layout that no longer follows from the plan, with what came or went since the draw. */
export function staleNotice(rack: Rack, trial: Trial, layout: Layout, recorded: boolean): Notice {
  if (layout.plantedAt !== null) {
    return layoutNotice(
      'layout-stale',
      'note',
      ['plan'],
      `The plants have stood since ${sayDay(layout.plantedAt)}; what the layout was drawn from has changed since, so it can't be drawn again for checking.`,
      'Analyse the layout as it was drawn; state in the report what changed.',
    );
  }
  const { about, text } = whatChanged(rack, trial, layout);
  return layoutNotice(
    'layout-stale',
    'warn',
    about,
    text,
    recorded
      ? 'Undo the change, or state it in the report. Another draw would change the treatments under the records.'
      : 'Draw the layout again before planting, or undo the change.',
  );
}

function whatChanged(rack: Rack, trial: Trial, layout: Layout): Pick<Notice, 'about' | 'text'> {
  const pots = measuredPots(rack);
  const assigned = new Set(layout.assignments.map(({ potId }) => potId));
  const there = new Set(pots.map(({ id }) => id));
  const without = pots.filter(({ id }) => !assigned.has(id));
  const gone = layout.assignments.filter(({ potId }) => !there.has(potId)).length;
  if (without.length > 0)
    return { about: traysOf(without), text: withoutWords(rack, pots, without) };
  if (gone > 0) {
    const are = gone === 1 ? 'is' : 'are';
    return { about: ['plan'], text: `${plural(gone, 'drawn pot')} ${are} no longer measured.` };
  }
  const what = standsOnLightOfToday(trial, layout)
    ? 'Blocks, factors or the light that the draw used'
    : 'Blocks or factors';
  return { about: ['plan'], text: `${what} have changed since the layout was drawn.` };
}

const traysOf = (pots: readonly Pot[]): string[] => [
  ...new Set(pots.map(({ trayId }) => `tray:${trayId}`)),
];

/** `Tray 2C was added after the draw; its 24 pots have no treatment.` */
function withoutWords(rack: Rack, pots: readonly Pot[], without: readonly Pot[]): string {
  const trays = rack.shelves.flatMap((shelf) =>
    shelf.trays.flatMap(({ id, letter }) => {
      const missing = without.filter(({ trayId }) => trayId === id).length;
      if (missing === 0) return [];
      const whole = missing === pots.filter(({ trayId }) => trayId === id).length;
      return [{ name: `tray ${trayCode(shelf.number, letter)}`, whole }];
    }),
  );
  const [one] = trays;
  const count = plural(without.length, 'pot');
  const have = without.length === 1 ? 'has' : 'have';
  if (one && trays.length === 1 && one.whole) {
    return `${capital(one.name)} was added after the draw; its ${count} ${have} no treatment.`;
  }
  const where =
    trays.length <= MOST_NAMED ? list(trays.map(({ name }) => name)) : `${trays.length} trays`;
  return `${count} in ${where} came after the draw and ${have} no treatment.`;
}
