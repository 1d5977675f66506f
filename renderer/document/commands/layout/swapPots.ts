import { Refusal } from '../../command';
import type { Command } from '../../command';
import { change, trialIn, layoutIn } from '../../edit';
import { exchangePlants, placedIn } from '../../exchange';
import { exchangeTrail } from '../../edits/trail';
import { codeOfPot } from '../../queries/names';

/**
 * Logs that two plants changed places at the rack. Block and the levels of shelf and tray stay
 * with the place; the plant, its code and its own levels move. `recordsMove`: what has been
 * recorded so far was recorded before the exchange and moves with the plants.
 */
export const swapPots: Command<{
  a: string;
  b: string;
  date: string;
  reason: string;
  recordsMove: boolean;
}> = {
  name: 'swapPots',
  label: ({ a, b }, plan) => `Exchange pots ${codeOfPot(plan, a)} and ${codeOfPot(plan, b)}`,
  run: (plan, { a, b, date, reason, recordsMove }) => {
    const layout = layoutIn(plan);
    if (a === b) throw new Refusal('Two different pots are needed for an exchange.');
    for (const id of [a, b]) {
      if (layout.assignments.some((assignment) => assignment.potId === id)) continue;
      throw new Refusal(`Pot ${codeOfPot(plan, id)} is not part of the layout.`);
    }
    const { assignments, factors } = exchangePlants(placedIn(plan), a, b);
    const swaps = [...layout.swaps, { date, a, b, reason: reason.trim() }];
    const exchanged = {
      ...plan,
      layout: { ...layout, assignments, swaps },
      trial: { ...trialIn(plan), factors },
    };
    if (!recordsMove) return exchanged;
    return change(exchanged, ({ records }) => {
      for (const lists of [records.values, records.second]) {
        for (const byPot of Object.values(lists)) exchangeEntries(byPot, a, b);
      }
      for (const byPot of Object.values(records.days ?? {})) exchangeEntries(byPot, a, b);
      exchangeTrail(records, a, b, exchangeEntries);
      exchangeEntries(records.marks, a, b);
      if (records.secondMarks) exchangeEntries(records.secondMarks, a, b);
      if (records.notes) exchangeEntries(records.notes, a, b);
    });
  },
};

function exchangeEntries<T>(byPot: Record<string, T>, a: string, b: string): void {
  const [ofA, ofB] = [byPot[a], byPot[b]];
  for (const [id, value] of [
    [a, ofB],
    [b, ofA],
  ] as const) {
    if (value !== undefined) byPot[id] = value;
    else Reflect.deleteProperty(byPot, id);
  }
}
