import type { Factor } from '../../../../shared-types/trial/trial';
import { bind, together } from '../../../document';
import { redesign, removeLevel, repeatShelves } from '../../../document/commands';
import { FEWEST_ERROR_DF } from '../../../engine/trial';
import { list, plural } from '../../../words';
import { factorOf, measured, unitsAfter, wayBy, type Today, type WayOut } from './way';

const MOST_TIMES = 4;

/** As many shelves more, like these, as give the factor enough to be judged by. */
export function moreShelves(factor: Factor, today: Today): WayOut | null {
  const { plan } = today;
  let last: WayOut | null = null;
  for (let times = 1; times <= MOST_TIMES; times++) {
    const command = bind(repeatShelves, { times });
    const grown = repeatShelves.run(plan, { times });
    const units = unitsAfter(grown, today);
    const df = units ? (factorOf(units, factor.id)?.errorDf ?? 0) : 0;
    const shelves = plan.rack.shelves.length * times;
    last = wayBy(command, factor.id, today, () => ({
      title: `Add ${plural(shelves, 'shelf', 'shelves')} like ${plan.rack.shelves.length === 1 ? 'this' : 'these'}`,
      says: `The same shelves ${times === 1 ? 'once' : `${times} times`} more, with lamps and trays.`,
      costs: [
        plural(shelves, 'shelf', 'shelves'),
        `${plural(measured(plan) * times, 'pot')} more`,
        'no more weeks',
      ],
      price: 10 * times,
    }));
    if (df >= FEWEST_ERROR_DF) return last;
  }
  return last;
}

/** As many levels less as leave every other enough units. */
export function fewerLevels(factor: Factor, today: Today): WayOut | null {
  const { trial } = today.plan;
  if (!trial) return null;
  const design = bind(redesign, {
    factorId: factor.id,
    unit: factor.unit,
    blocks: trial.blocks,
    scheme: trial.scheme,
  });
  for (let kept = factor.levels.length - 1; kept >= 2; kept--) {
    const dropped = factor.levels.slice(kept);
    const names = list(dropped.map(({ name }) => name));
    const command = together(
      () => `Leave out ${names}`,
      [...dropped.map(({ id }) => bind(removeLevel, { factorId: factor.id, levelId: id })), design],
    );
    const way = wayBy(command, factor.id, today, () => ({
      title: `Compare ${list(factor.levels.slice(0, kept).map(({ name }) => name))} only`,
      says: `Nothing is learnt of ${names}.`,
      costs: [`without ${names}`],
      price: 5 + dropped.length,
    }));
    if (way) return way;
  }
  return null;
}
