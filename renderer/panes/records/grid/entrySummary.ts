import type { EntryBy } from '../../../store';

/** How far one measurement has come in all trays; `over`: cells that were passed over. */
export function entrySummary(
  what: string,
  by: EntryBy,
  trays: readonly { pots: number; open: number }[],
  over: number,
): string {
  const total = trays.reduce((n, tray) => n + tray.pots, 0);
  const open = trays.reduce((n, tray) => n + tray.open, 0);
  const second = by === 'second';
  return (
    `${second ? 'Second entry. ' : ''}${what}${second ? ', second entry' : ''}: ` +
    `${total - open} of ${total} pots done${over > 0 ? `, ${over} passed over` : ''}.`
  );
}
