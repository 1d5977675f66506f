import { deliveredMeasures, type DeliveredMeasure } from '../../../../shared-types/delivered';
import { plural, sayDay } from '../../../words';
import { Refusal, type Command } from '../../command';
import { change } from '../../edit';
import { forgetDay } from '../../edits/forgetDay';
import { deliveredUnitName, deliveredUnits } from '../../queries/deliveredUnits';

/** Figures of one unit on one day; null takes a figure away, one that is absent stays as it is. */
export interface DeliveredEntry {
  unitId: string;
  date: string;
  figures: Partial<Record<DeliveredMeasure, number | null | undefined>>;
}

/** Logs what units got, one entry or many; a figure that stands for the day is replaced. */
export const logDelivered: Command<{
  entries: readonly DeliveredEntry[];
  /** What was said of a logger's table, kept for the next. */
  heads?: Readonly<Record<string, string>>;
}> = {
  name: 'logDelivered',
  label: ({ entries }, plan) => {
    const [first, ...more] = entries;
    if (!first || more.length > 0) return `Log ${plural(entries.length, 'day')} of units`;
    return `Log ${deliveredUnitName(plan, first.unitId)} on ${sayDay(first.date)}`;
  },
  run: (plan, { entries, heads = {} }) => {
    const known = new Set(deliveredUnits(plan).map(({ id }) => id));
    const stranger = entries.find(({ unitId }) => !known.has(unitId));
    if (stranger) {
      throw new Refusal(`The rack has no reservoir, bay or tray with the id ${stranger.unitId}.`);
    }
    return change(plan, (draft) => {
      const { records } = draft;
      for (const { unitId, date, figures } of entries) {
        const delivered = (records.delivered ??= {});
        const day = ((delivered[unitId] ??= {})[date] ??= {});
        for (const measure of deliveredMeasures) {
          const figure = figures[measure];
          if (figure === null) Reflect.deleteProperty(day, measure);
          else if (figure !== undefined) day[measure] = figure;
        }
        if (Object.keys(day).length === 0) forgetDay(records, unitId, date);
      }
      if (Object.keys(heads).length > 0) draft.tableHeads = { ...draft.tableHeads, ...heads };
    });
  },
};
