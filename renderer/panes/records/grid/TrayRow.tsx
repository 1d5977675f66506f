import { memo } from 'react';
import type { TrayProgress } from '../../../document/queries';

/** How far each tray has come; a press shows that tray alone, another one all. */
export const TrayRow = memo(function TrayRow(props: {
  trays: readonly (TrayProgress & { code: string })[];
  chosen: string | null;
  /** Of what the figures speak. */
  what: string;
  onChoose: (trayId: string | null) => void;
}) {
  return (
    <div
      className="tray-row"
      role="group"
      aria-label={`Progress by tray: ${props.what}`}
      data-testid="tray-row"
    >
      {props.trays.map((tray) => {
        const done = tray.pots - tray.open;
        const chosen = tray.trayId === props.chosen;
        return (
          <button
            key={tray.trayId}
            type="button"
            className={`tray-chip${tray.open === 0 ? ' is-done' : ''}`}
            aria-pressed={chosen}
            title={`Tray ${tray.code}: ${done} of ${tray.pots} done, ${tray.open} open; ${props.what}`}
            style={{ backgroundSize: `${(100 * done) / Math.max(1, tray.pots)}% 3px` }}
            onClick={() => props.onChoose(chosen ? null : tray.trayId)}
          >
            <strong>{tray.code}</strong> {done}/{tray.pots}
          </button>
        );
      })}
    </div>
  );
});
